import type { NoteCounter } from '../../../core/ground/samples/notes.js';
import type { SampleColumns } from '../../sampleColumns.js';
import { dateTimeOf } from '../../xml/xmlValues.js';
import { PlainDecimals } from './plainDecimals.js';
import { CADENCE, ELE, HEART, KINDS_IN_ALL, LAT, LON, OTHER, POWER, SPEED, TIME } from './plainKinds.js';
import { PlainMoments } from './plainMoments.js';
import { textIn } from './plainText.js';
import type { PlainXml } from './plainXml.js';
import { PointShape } from './pointShape.js';

/** From and to of a text. */
class Piece {
  from = 0;
  to = 0;
  set(from: number, to: number): void {
    this.from = from;
    this.to = to;
  }
  get isEmpty(): boolean {
    return this.from === this.to;
  }
}

/** Takes the points of a file, value by value as its XML is read, or all those at once that are written alike. */
export class PlainPoints {
  readonly #bytes: Uint8Array;
  readonly #columns: SampleColumns;
  readonly #notes: NoteCounter;
  readonly #decimals = new PlainDecimals();
  readonly #moments = new PlainMoments();
  readonly #shape: PointShape;
  /** The point's values, by kind. */
  readonly #pieces = Array.from({ length: KINDS_IN_ALL }, () => new Piece());

  constructor(bytes: Uint8Array, columns: SampleColumns, notes: NoteCounter) {
    this.#bytes = bytes;
    this.#columns = columns;
    this.#notes = notes;
    this.#shape = new PointShape(bytes, this.#decimals, this.#moments);
  }

  /** Begins with the tag that opens a point; returns whether it is plain. */
  begin({ attributes, attributeCount, textFrom }: PlainXml): boolean {
    for (const piece of this.#pieces) piece.set(0, 0);
    this.#shape.begin(textFrom);
    for (let i = 0; i < attributeCount; i += 1) {
      const { name, from, to, escaped } = attributes[i]!;
      const kind = name.text === 'lat' ? LAT : name.text === 'lon' ? LON : OTHER;
      if (kind !== OTHER && escaped) return false;
      this.take(kind, from, to);
    }
    return true;
  }

  /** Takes a value of the point; the last one of its kind counts. */
  take(kind: number, from: number, to: number): void {
    this.#pieces[kind]!.set(from, to);
    this.#shape.learn(kind, from, to);
  }

  /** Passes over the attributes of what lies in the point. */
  pass({ attributes, attributeCount }: PlainXml): void {
    for (let i = 0; i < attributeCount; i += 1)
      this.#shape.learn(OTHER, attributes[i]!.from, attributes[i]!.to);
  }

  /** Ends with the tag that closes the point, and goes on behind all those that are written like it. */
  end(xml: PlainXml): void {
    this.#push();
    this.#shape.end(xml.at);
    const { row } = this.#shape;
    for (let at = this.#shape.read(xml.at); at >= 0; at = this.#shape.read(at)) {
      this.#columns.pushRow(row);
      xml.passTo(at);
    }
  }

  #push(): void {
    const lat = this.#decimal(LAT);
    const lon = this.#decimal(LON);
    if (Number.isNaN(lat) || Number.isNaN(lon)) {
      this.#notes.add('position-malformed');
      return;
    }
    const ele = this.#number(ELE, 'elevation-malformed');
    const speed = this.#number(SPEED, 'speed-malformed');
    this.#columns.push(this.#time(), lat, lon, ele, Number.NaN, speed);
    this.#columns.pushEffort(this.#decimal(HEART), this.#decimal(CADENCE), this.#decimal(POWER));
  }

  #decimal(kind: number): number {
    const { from, to, isEmpty } = this.#pieces[kind]!;
    return isEmpty ? Number.NaN : this.#decimals.in(this.#bytes, from, to);
  }

  #number(kind: number, malformed: 'elevation-malformed' | 'speed-malformed'): number {
    const value = this.#decimal(kind);
    if (Number.isNaN(value) && !this.#pieces[kind]!.isEmpty) this.#notes.add(malformed);
    return value;
  }

  #time(): number {
    const { from, to, isEmpty } = this.#pieces[TIME]!;
    if (isEmpty) return Number.NaN;
    const plain = this.#moments.in(this.#bytes, from, to);
    if (plain !== null) return plain;
    const read = dateTimeOf(textIn(this.#bytes, from, to));
    if (Number.isNaN(read.ms)) this.#notes.add('time-malformed');
    else if (!read.zoned) this.#notes.add('time-without-zone');
    return read.ms;
  }
}
