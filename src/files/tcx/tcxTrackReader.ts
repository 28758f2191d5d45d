import type { NoteCounter } from '../../core/ground/samples/notes.js';
import type { Span } from '../../core/ground/samples/recording.js';
import { msOf } from '../../units.js';
import type { SampleColumns } from '../sampleColumns.js';
import { XmlReader } from '../xml/xmlReader.js';
import { dateTimeOf, decimalOf } from '../xml/xmlValues.js';

export interface TcxActivity {
  readonly sport: string;
  readonly segments: Span[];
}

/** What of a track point is read, by the element that holds it. `Value` is that of the heart rate. */
const LEAVES = [
  ...['Time', 'LatitudeDegrees', 'LongitudeDegrees', 'AltitudeMeters', 'DistanceMeters'],
  ...['Value', 'Cadence', 'Speed', 'Watts'],
] as const;
type Leaf = (typeof LEAVES)[number];
const IN_POINT: ReadonlySet<string> = new Set(LEAVES);
const NOTHING = Object.fromEntries(LEAVES.map((leaf) => [leaf, ''])) as Readonly<Record<Leaf, string>>;

/** A lap that begins so soon after the one before it ended is no stop. */
const LAP_APART_MS = msOf(2);

/**
 * Reads the text of one TCX file, piece by piece, into columns and the activities that they belong to. A track is a stretch
 * without a stop; a lap begins another, which is none where the laps follow each other.
 */
export class TcxTrackReader extends XmlReader {
  readonly activities: TcxActivity[] = [];
  readonly #columns: SampleColumns;
  /** The depths of what is open; 0 where it is not. */
  #activityAt = 0;
  #lapAt = 0;
  #pointAt = 0;
  #leaf: Leaf | 'TotalTimeSeconds' | null = null;
  #text = '';
  #point: Record<Leaf, string> = { ...NOTHING };
  #segmentFrom = 0;
  #lapStartMs = Number.NaN;
  #lapTotal = '';
  #lastLapEndMs = Number.NaN;
  /** The next track goes on where the one before it, of another lap, ended. */
  #goesOn = false;

  constructor(columns: SampleColumns, notes: NoteCounter) {
    super(notes);
    this.#columns = columns;
  }

  protected open(local: string, _uri: string, attributes: Readonly<Record<string, string>>): void {
    if (this.#pointAt > 0) {
      if (IN_POINT.has(local)) this.#read(local as Leaf);
    } else if (local === 'Activity' && this.#activityAt === 0) {
      this.#activityAt = this.depth;
      this.activities.push({ sport: attributes.Sport ?? '', segments: [] });
      this.#lastLapEndMs = Number.NaN;
    } else if (this.#activityAt === 0) return;
    else if (local === 'Lap') this.#beginLap(attributes.StartTime ?? '');
    else if (local === 'TotalTimeSeconds' && this.depth === this.#lapAt + 1) this.#read(local);
    else if (local === 'Track') this.#beginTrack();
    else if (local === 'Trackpoint') {
      this.#pointAt = this.depth;
      Object.assign(this.#point, NOTHING);
    }
  }

  protected take(text: string): void {
    if (this.#leaf !== null) this.#text += text;
  }

  protected close(): void {
    if (this.#leaf === 'TotalTimeSeconds') this.#lapTotal = this.#text;
    else if (this.#leaf !== null) this.#point[this.#leaf] = this.#text;
    this.#leaf = null;
    if (this.depth === this.#pointAt) {
      this.#pushPoint();
      this.#pointAt = 0;
    } else if (this.depth === this.#lapAt) {
      this.#lastLapEndMs = this.#lapStartMs + msOf(decimalOf(this.#lapTotal));
      this.#lapAt = 0;
    } else if (this.depth === this.#activityAt) {
      this.#endSegment();
      this.#activityAt = 0;
    }
  }

  protected end(): void {
    if (this.#activityAt > 0) this.#endSegment();
  }

  #read(leaf: Leaf | 'TotalTimeSeconds'): void {
    this.#leaf = leaf;
    this.#text = '';
  }

  #beginLap(startTime: string): void {
    this.#lapAt = this.depth;
    this.#lapTotal = '';
    this.#lapStartMs = dateTimeOf(startTime).ms;
    // Where a lap does not say when it began or how long it took, it is taken for a stop.
    this.#goesOn = Math.abs(this.#lapStartMs - this.#lastLapEndMs) <= LAP_APART_MS;
  }

  #beginTrack(): void {
    if (!this.#goesOn) this.#endSegment();
    this.#goesOn = false;
  }

  #endSegment(): void {
    const to = this.#columns.count;
    if (to > this.#segmentFrom) this.activities.at(-1)!.segments.push({ from: this.#segmentFrom, to });
    this.#segmentFrom = to;
  }

  #pushPoint(): void {
    const { LatitudeDegrees, LongitudeDegrees, AltitudeMeters, DistanceMeters, Speed } = this.#point;
    const [lat, lon] = [
      this.#number(LatitudeDegrees, 'position'),
      this.#number(LongitudeDegrees, 'position'),
    ];
    const isPlaced = !Number.isNaN(lat) && !Number.isNaN(lon);
    const distM = numberOf(DistanceMeters);
    // A recorder that lost its reception, or has none, still counts the way; a point of neither says nothing.
    if (!isPlaced && Number.isNaN(distM)) return;
    this.#columns.push(
      this.#time(),
      isPlaced ? lat : Number.NaN,
      isPlaced ? lon : Number.NaN,
      this.#number(AltitudeMeters, 'elevation'),
      distM,
      this.#number(Speed, 'speed'),
    );
    const { Value, Cadence, Watts } = this.#point;
    this.#columns.pushEffort(decimalOf(Value), decimalOf(Cadence), decimalOf(Watts));
  }

  #number(text: string, what: 'position' | 'elevation' | 'speed'): number {
    const value = numberOf(text);
    if (Number.isNaN(value) && text !== '') this.notes.add(`${what}-malformed`);
    return value;
  }

  #time(): number {
    const { ms, zoned } = dateTimeOf(this.#point.Time);
    if (Number.isNaN(ms)) this.notes.add('time-malformed');
    else if (!zoned) this.notes.add('time-without-zone');
    return ms;
  }
}

const DOUBLE = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d{1,3})?$/;

/** Returns the number that an xsd:double stands for, NaN where it is malformed or without bounds. Source: XML Schema 2, 3.2.5. */
function numberOf(text: string): number {
  const trimmed = text.trim();
  return DOUBLE.test(trimmed) && Number.isFinite(Number(trimmed)) ? Number(trimmed) : Number.NaN;
}
