/**
 * Reads a GPX file that is written as exporters write it, straight from its bytes. It takes exactly what it understands
 * and gives up at once on anything else. It and the reader over the tokeniser are one to the outside.
 * Source: GPX 1.0 and 1.1.
 */
import { NoteCounter } from '../../../core/ground/samples/notes.js';
import { SampleColumns } from '../../sampleColumns.js';
import { BYTES_A_POINT } from '../../xml/readTracks.js';
import type { GpxTrack } from '../gpxTrackReader.js';
import { GPX, HEART, KIND_OF_ELEMENT, OTHER, POINT, SEGMENT, SPEED, TIME, TRK, TYPE } from './plainKinds.js';
import { PlainPoints } from './plainPoints.js';
import { textIn } from './plainText.js';
import { CLOSE, END, OPEN, type PlainName, PlainXml } from './plainXml.js';

export interface PlainGpx {
  readonly columns: SampleColumns;
  readonly notes: NoteCounter;
  readonly tracks: GpxTrack[];
  readonly creator: string;
}

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

class PlainGpxReader {
  readonly #columns: SampleColumns;
  readonly #notes = new NoteCounter();
  readonly #tracks: GpxTrack[] = [];
  readonly #points: PlainPoints;
  readonly #xml: PlainXml;
  readonly #bytes: Uint8Array;
  readonly #prefixes = new Set(['xml']);
  #creator = '';
  /** How many of the open elements, from the root down, are ones that are read. */
  #matched = 0;
  /** The element whose text is wanted; 0 for none. */
  #leaf = 0;
  #segmentFrom = 0;
  /** Whether the tag before opened an element, so that one that ends holds nothing but text. */
  #isBare = false;

  constructor(bytes: Uint8Array, begin: number) {
    this.#bytes = bytes;
    this.#columns = SampleColumns.for(bytes, BYTES_A_POINT);
    this.#xml = new PlainXml(bytes, begin, KIND_OF_ELEMENT);
    this.#points = new PlainPoints(bytes, this.#columns, this.#notes);
  }

  read(): PlainGpx | null {
    const xml = this.#xml;
    for (;;) {
      switch (xml.next()) {
        case OPEN:
          if (!this.#open()) return null;
          this.#isBare = true;
          break;
        case CLOSE:
          if (!this.#close()) return null;
          this.#isBare = false;
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
    if (this.#matched >= POINT) this.#points.pass(this.#xml);
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
    } else if (depth === POINT + 1 && kind >= TIME && kind <= SPEED) this.#leaf = kind;
    else return true;
    this.#matched = depth;
    if (kind === TRK) this.#tracks.push({ type: '', segments: [] });
    else if (kind === SEGMENT) this.#segmentFrom = this.#columns.count;
    else if (kind === POINT) return this.#points.begin(this.#xml);
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
        this.#points.take(leaf, textFrom, textTo);
      }
      if (leaf < HEART) this.#matched -= 1;
      return true;
    }
    if (this.#matched !== depth) {
      if (this.#isBare && this.#matched >= POINT) this.#points.take(OTHER, textFrom, textTo);
      return true;
    }
    if (depth === POINT) {
      this.#points.end(this.#xml);
    } else if (depth === SEGMENT) this.#closeSegment();
    this.#matched -= 1;
    return true;
  }

  #closeSegment(): void {
    if (this.#columns.count === this.#segmentFrom) return;
    this.#tracks.at(-1)!.segments.push({ from: this.#segmentFrom, to: this.#columns.count });
    this.#segmentFrom = this.#columns.count;
  }
}
