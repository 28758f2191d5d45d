/**
 * Reads a GPX file that is written as exporters write it, straight from its bytes. It takes exactly what it understands
 * and gives up at once on anything else. It and the reader over the tokeniser are one to the outside.
 * Source: GPX 1.0 and 1.1.
 */
import { NoteCounter } from '../../../core/ground/samples/notes.js';
import { SampleColumns } from '../../sampleColumns.js';
import { BYTES_A_POINT } from '../../xml/readTracks.js';
import { dateTimeOf } from '../../xml/xmlValues.js';
import type { GpxTrack } from '../gpxTrackReader.js';
import { decimalIn, PlainMoments, textIn } from './plainValues.js';
import { CLOSE, END, OPEN, type PlainName, PlainXml } from './plainXml.js';

export interface PlainGpx {
  readonly columns: SampleColumns;
  readonly notes: NoteCounter;
  readonly tracks: GpxTrack[];
  readonly creator: string;
}

const [GPX, TRK, SEGMENT, POINT] = [1, 2, 3, 4];
const [TYPE, ELE, TIME, SPEED, HEART, CADENCE, POWER] = [5, 6, 7, 8, 9, 10, 11];
const KINDS: ReadonlyMap<string, number> = new Map([
  ['gpx', GPX],
  ['trk', TRK],
  ['trkseg', SEGMENT],
  ['trkpt', POINT],
  ['type', TYPE],
  ['ele', ELE],
  ['time', TIME],
  ['speed', SPEED],
  ['hr', HEART],
  ['cad', CADENCE],
  ['power', POWER],
]);

const DECLARATION =
  /^<\?xml version=(["'])1\.0\1(?: encoding=(["'])[Uu][Tt][Ff]-8\2)?(?: standalone=(["'])(?:yes|no)\3)?\s*\?>/;
const HEAD_BYTES = 200;
const isOdd = (text: string): boolean => /[^\x20-\x7e]/.test(text);

/** Returns what the file says; null where any of it is not plain. Errors: TooManySamples. */
export function readPlainGpx(bytes: Uint8Array): PlainGpx | null {
  const begin = beginOf(bytes);
  // A view of one kind, whatever was handed over: loops over bytes are compiled for it once.
  const view = new Uint8Array(bytes.buffer, bytes.byteOffset, bytes.length);
  return begin === null ? null : new PlainGpxReader(view, begin).read();
}

/** Returns where the root element may begin. */
function beginOf(bytes: Uint8Array): number | null {
  let at = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? 3 : 0;
  while (isBlank(bytes[at])) at += 1;
  const head = textIn(bytes, at, at + HEAD_BYTES);
  if (!head.startsWith('<?')) return at;
  const declared = DECLARATION.exec(head)?.[0];
  return declared === undefined ? null : at + declared.length;
}

const isBlank = (byte: number | undefined): boolean =>
  byte === 0x20 || byte === 0x0a || byte === 0x0d || byte === 0x09;

/** From and to of a text; `from` is -1 where there is none. */
class Piece {
  from = -1;
  to = -1;
  clear(): void {
    this.from = this.to = -1;
  }
  get isEmpty(): boolean {
    return this.from === this.to;
  }
}

class PlainGpxReader {
  readonly #columns: SampleColumns;
  readonly #notes = new NoteCounter();
  readonly #tracks: GpxTrack[] = [];
  readonly #moments = new PlainMoments();
  readonly #xml: PlainXml;
  readonly #bytes: Uint8Array;
  readonly #prefixes = new Set(['xml']);
  #creator = '';
  /** How many of the open elements, from the root down, are ones that are read. */
  #matched = 0;
  /** The element whose text is wanted; 0 for none. */
  #leaf = 0;
  #segmentFrom = 0;
  readonly #pieces = Array.from({ length: POWER + 1 }, () => new Piece());
  readonly #lat = new Piece();
  readonly #lon = new Piece();

  constructor(bytes: Uint8Array, begin: number) {
    this.#bytes = bytes;
    this.#columns = SampleColumns.for(bytes, BYTES_A_POINT);
    this.#xml = new PlainXml(bytes, begin, KINDS);
  }

  read(): PlainGpx | null {
    const xml = this.#xml;
    for (;;) {
      switch (xml.next()) {
        case OPEN:
          if (!this.#open()) return null;
          break;
        case CLOSE:
          if (!this.#close()) return null;
          xml.leave();
          break;
        case END:
          return {
            columns: this.#columns,
            notes: this.#notes,
            tracks: this.#tracks,
            creator: this.#creator,
          };
        default:
          return null;
      }
    }
  }

  #open(): boolean {
    const { depth, name, attributes, attributeCount } = this.#xml;
    // What is written inside a value belongs to it, or not: for the other reader to say.
    if (this.#leaf !== 0) return false;
    if (depth === 1) return this.#root();
    if (name.prefix !== '' && !this.#prefixes.has(name.prefix)) return false;
    for (let i = 0; i < attributeCount; i += 1) {
      const { prefix, text } = attributes[i]!.name;
      if (text === 'xmlns' || prefix === 'xmlns') return false;
      if (prefix !== '' && !this.#prefixes.has(prefix)) return false;
    }
    if (this.#matched === POINT && depth > POINT + 1) this.#leaf = name.kind >= HEART ? name.kind : 0;
    else if (this.#matched === depth - 1 && name.prefix === '') return this.#match(depth, name);
    return true;
  }

  /** The namespace of the root is that of all elements without a prefix, and of no others. */
  #root(): boolean {
    const { name, attributes, attributeCount } = this.#xml;
    if (name.text !== 'gpx') return false;
    let namespace = '';
    const uris: string[] = [];
    const used: string[] = [];
    for (let i = 0; i < attributeCount; i += 1) {
      const { name: called, from, to, escaped } = attributes[i]!;
      const isDeclared = called.text === 'xmlns' || called.prefix === 'xmlns';
      if (!isDeclared && called.text !== 'creator') {
        if (called.prefix !== '') used.push(called.prefix);
        continue;
      }
      const value = textIn(this.#bytes, from, to);
      if (escaped || (isDeclared && (isOdd(value) || value.trim() !== value || value === ''))) return false;
      if (called.text === 'creator') {
        if (/[\t\n\r]/.test(value)) return false;
        this.#creator = value.slice(0, 100);
      } else if (called.text === 'xmlns') namespace = value;
      else {
        if (called.local === 'xml' || called.local === 'xmlns') return false;
        uris.push(value);
        this.#prefixes.add(called.local);
      }
    }
    this.#matched = GPX;
    return !uris.includes(namespace) && used.every((prefix) => this.#prefixes.has(prefix));
  }

  #match(depth: number, { kind }: PlainName): boolean {
    if (depth <= POINT) {
      if (kind === TYPE && depth === SEGMENT) this.#leaf = TYPE;
      else if (kind !== depth) return true;
    } else if (depth === POINT + 1 && kind >= ELE && kind <= SPEED) this.#leaf = kind;
    else return true;
    this.#matched = depth;
    if (kind === TRK) this.#tracks.push({ type: '', segments: [] });
    else if (kind === SEGMENT) this.#segmentFrom = this.#columns.count;
    else if (kind === POINT) return this.#beginPoint();
    return true;
  }

  #beginPoint(): boolean {
    const { attributes, attributeCount } = this.#xml;
    for (let kind = ELE; kind <= POWER; kind += 1) this.#pieces[kind]!.clear();
    this.#lat.clear();
    this.#lon.clear();
    for (let i = 0; i < attributeCount; i += 1) {
      const { name, from, to, escaped } = attributes[i]!;
      const piece = name.text === 'lat' ? this.#lat : name.text === 'lon' ? this.#lon : null;
      if (piece === null) continue;
      if (escaped) return false;
      piece.from = from;
      piece.to = to;
    }
    return true;
  }

  #close(): boolean {
    const { depth, textFrom, textTo, escaped } = this.#xml;
    const leaf = this.#leaf;
    if (leaf !== 0) {
      if (escaped) return false;
      this.#leaf = 0;
      if (leaf === TYPE) {
        const type = textIn(this.#bytes, textFrom, textTo);
        if (type.includes('\r')) return false;
        this.#tracks.at(-1)!.type = type;
      } else {
        const piece = this.#pieces[leaf]!;
        piece.from = textFrom;
        piece.to = textTo;
      }
      if (leaf < HEART) this.#matched -= 1;
      return true;
    }
    if (this.#matched !== depth) return true;
    if (depth === POINT) this.#pushPoint();
    else if (depth === SEGMENT) this.#closeSegment();
    this.#matched -= 1;
    return true;
  }

  #closeSegment(): void {
    if (this.#columns.count === this.#segmentFrom) return;
    this.#tracks.at(-1)!.segments.push({ from: this.#segmentFrom, to: this.#columns.count });
    this.#segmentFrom = this.#columns.count;
  }

  #pushPoint(): void {
    const lat = this.#decimal(this.#lat);
    const lon = this.#decimal(this.#lon);
    if (Number.isNaN(lat) || Number.isNaN(lon)) {
      this.#notes.add('position-malformed');
      return;
    }
    const pieces = this.#pieces;
    const ele = this.#number(pieces[ELE]!, 'elevation-malformed');
    const speed = this.#number(pieces[SPEED]!, 'speed-malformed');
    this.#columns.push(this.#time(pieces[TIME]!), lat, lon, ele, Number.NaN, speed);
    const [heart, cadence, power] = [pieces[HEART]!, pieces[CADENCE]!, pieces[POWER]!];
    if (!heart.isEmpty || !cadence.isEmpty || !power.isEmpty)
      this.#columns.pushEffort(this.#decimal(heart), this.#decimal(cadence), this.#decimal(power));
  }

  #decimal({ from, to }: Piece): number {
    return from === to ? Number.NaN : decimalIn(this.#bytes, from, to);
  }

  #number(piece: Piece, malformed: 'elevation-malformed' | 'speed-malformed'): number {
    if (piece.isEmpty) return Number.NaN;
    const value = this.#decimal(piece);
    if (Number.isNaN(value)) this.#notes.add(malformed);
    return value;
  }

  #time({ from, to }: Piece): number {
    if (from === to) return Number.NaN;
    const plain = this.#moments.in(this.#bytes, from, to);
    if (plain !== null) return plain;
    const read = dateTimeOf(textIn(this.#bytes, from, to));
    if (Number.isNaN(read.ms)) this.#notes.add('time-malformed');
    else if (!read.zoned) this.#notes.add('time-without-zone');
    return read.ms;
  }
}
