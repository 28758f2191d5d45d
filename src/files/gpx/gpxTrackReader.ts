import type { NoteCounter } from '../../core/ground/samples/notes.js';
import type { Span } from '../../core/ground/samples/recording.js';
import type { SampleColumns } from '../sampleColumns.js';
import { XmlReader } from '../xml/xmlReader.js';
import { dateTimeOf, decimalOf } from '../xml/xmlValues.js';

export interface GpxTrack {
  type: string;
  readonly segments: Span[];
}

/** Elements that are read, by their parent; all else is passed over with what is in it. */
const CHILDREN: readonly (readonly string[])[] = [
  ['gpx'],
  ['trk'],
  ['trkseg', 'type'],
  ['trkpt'],
  ['ele', 'time', 'speed'],
];
/** What extensions of any namespace call what the rider did; common practice among exporters, no source. */
const EFFORT: ReadonlyMap<string, keyof EffortText> = new Map([
  ['hr', 'heart'],
  ['cad', 'cadence'],
  ['power', 'power'],
]);
interface EffortText {
  heart: string;
  cadence: string;
  power: string;
}
const NO_EFFORT: Readonly<EffortText> = { heart: '', cadence: '', power: '' };
const SEGMENT = 3;
const POINT = 4;

/** Reads the text of one GPX file, piece by piece, into columns and the tracks that they belong to. */
export class GpxTrackReader extends XmlReader {
  readonly tracks: GpxTrack[] = [];
  /** What the file says wrote it. */
  creator = '';
  readonly #columns: SampleColumns;
  /** How many of the open elements, from the root down, are ones that are read. */
  #matched = 0;
  #namespace = '';
  #leaf = '';
  #text = '';
  #segmentFrom = 0;
  #point = { lat: '', lon: '', ele: '', time: '', speed: '' };
  /** What an extension of the point says of the rider, and which of it is open. */
  #effort: EffortText = { ...NO_EFFORT };
  #effortLeaf: keyof EffortText | null = null;

  constructor(columns: SampleColumns, notes: NoteCounter) {
    super(notes);
    this.#columns = columns;
  }

  protected open(local: string, uri: string, attributes: Readonly<Record<string, string>>): void {
    if (this.#matched === POINT && this.depth > POINT + 1) this.#beginEffort(local);
    if (this.#matched !== this.depth - 1 || !CHILDREN[this.#matched]?.includes(local)) return;
    if (this.depth === 1) {
      this.#namespace = uri;
      this.creator = String(attributes.creator ?? '').slice(0, 100);
    }
    if (uri !== this.#namespace) return;
    this.#matched = this.depth;
    this.#begin(local, attributes);
  }

  #begin(local: string, { lat = '', lon = '' }: Readonly<Record<string, string>>): void {
    this.#leaf = this.#matched > POINT || local === 'type' ? local : '';
    this.#text = '';
    if (local === 'trk') this.tracks.push({ type: '', segments: [] });
    if (local === 'trkseg') this.#segmentFrom = this.#columns.count;
    if (local === 'trkpt') {
      this.#point = { lat, lon, ele: '', time: '', speed: '' };
      Object.assign(this.#effort, NO_EFFORT);
    }
  }

  #beginEffort(local: string): void {
    this.#effortLeaf = EFFORT.get(local) ?? null;
    this.#text = '';
  }

  protected take(text: string): void {
    if (this.#leaf !== '' || this.#effortLeaf !== null) this.#text += text;
  }

  protected close(): void {
    if (this.#effortLeaf !== null) {
      this.#effort[this.#effortLeaf] = this.#text;
      this.#effortLeaf = null;
    }
    if (this.#matched !== this.depth) return;
    this.#endMatched();
    this.#matched -= 1;
    this.#leaf = '';
  }

  protected end(): void {
    this.#closeSegment();
  }

  #endMatched(): void {
    if (this.#leaf === 'type') this.tracks.at(-1)!.type = this.#text;
    else if (this.#leaf !== '') this.#point[this.#leaf as 'ele' | 'time' | 'speed'] = this.#text;
    else if (this.#matched === POINT) this.#pushPoint();
    else if (this.#matched === SEGMENT) this.#closeSegment();
  }

  #closeSegment(): void {
    if (this.#matched < SEGMENT || this.#columns.count === this.#segmentFrom) return;
    this.tracks.at(-1)!.segments.push({ from: this.#segmentFrom, to: this.#columns.count });
    this.#segmentFrom = this.#columns.count;
  }

  #pushPoint(): void {
    const lat = decimalOf(this.#point.lat);
    const lon = decimalOf(this.#point.lon);
    if (Number.isNaN(lat) || Number.isNaN(lon)) {
      this.notes.add('position-malformed');
      return;
    }
    const ele = this.#number(this.#point.ele, 'elevation-malformed');
    const speed = this.#number(this.#point.speed, 'speed-malformed');
    this.#columns.push(this.#time(), lat, lon, ele, Number.NaN, speed);
    const { heart, cadence, power } = this.#effort;
    this.#columns.pushEffort(decimalOf(heart), decimalOf(cadence), decimalOf(power));
  }

  #number(text: string, malformed: 'elevation-malformed' | 'speed-malformed'): number {
    const value = decimalOf(text);
    if (Number.isNaN(value) && text !== '') this.notes.add(malformed);
    return value;
  }

  #time(): number {
    if (this.#point.time === '') return Number.NaN;
    const { ms, zoned } = dateTimeOf(this.#point.time);
    if (Number.isNaN(ms)) this.notes.add('time-malformed');
    else if (!zoned) this.notes.add('time-without-zone');
    return ms;
  }
}
