import type { PlainDecimals } from './plainDecimals.js';
import { KINDS_IN_ALL, LAT, LON, OTHER, TIME } from './plainKinds.js';
import type { PlainMoments } from './plainMoments.js';
import { LONGEST_PIECE, TEXT } from './plainXml.js';

/** Bytes that are compared at once. */
const WORD = 4;
/** So often a shape may be learned that no other point has. */
const MOST_IN_VAIN = 50;

/**
 * How a point of a track is written. From one to the next mostly values change alone, and what stands between them is
 * the same byte by byte. So once a point was read as XML, of those like it nothing needs to be read but values.
 */
export class PointShape {
  /** What the last point says, as a row of samples; NaN where it says nothing. */
  readonly row = new Float64Array(KINDS_IN_ALL - TIME);
  readonly #bytes: Uint8Array;
  readonly #view: DataView;
  readonly #decimals: PlainDecimals;
  readonly #moments: PlainMoments;
  #inVain = 0;
  #isLearning = false;
  #isKnown = false;
  /** Where in the point that was learned the text before each value, and after the last, begins and ends. */
  #froms: number[] = [];
  #tos: number[] = [];
  #kinds: number[] = [];
  /** A bit a kind. */
  #seen = 0;

  constructor(bytes: Uint8Array, decimals: PlainDecimals, moments: PlainMoments) {
    this.#bytes = bytes;
    this.#view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
    this.#decimals = decimals;
    this.#moments = moments;
  }

  /** Begins to learn a point, with the text before it. */
  begin(from: number): void {
    this.#isKnown = false;
    this.#isLearning = this.#inVain < MOST_IN_VAIN;
    if (!this.#isLearning) return;
    this.#froms = [from];
    this.#tos = [];
    this.#kinds = [];
    this.#seen = 0;
  }

  /** Says that a value stands there; of one that is written twice the first would be overlooked. */
  learn(kind: number, from: number, to: number): void {
    if (!this.#isLearning) return;
    if (kind !== OTHER && (this.#seen & (1 << kind)) !== 0) this.#isLearning = false;
    this.#seen |= 1 << kind;
    if (from === to) return;
    this.#tos.push(from);
    this.#kinds.push(kind);
    this.#froms.push(to);
  }

  /** The point that was learned ends there. */
  end(to: number): void {
    if (!this.#isLearning) return;
    this.#isLearning = false;
    this.#inVain += 1;
    this.#tos.push(to);
    this.#isKnown = this.#kinds.includes(LAT) && this.#kinds.includes(LON);
    this.row.fill(Number.NaN);
  }

  /** Returns where the point ends that begins there, -1 where it is written otherwise. */
  read(from: number): number {
    if (!this.#isKnown) return -1;
    const kinds = this.#kinds;
    let at = this.#text(0, from);
    for (let i = 0; i < kinds.length && at >= 0; i += 1) {
      at = this.#value(kinds[i]!, at, this.#froms[i + 1]!);
      if (at >= 0) at = this.#text(i + 1, at);
    }
    if (at < 0 || at - from > LONGEST_PIECE) return -1;
    this.#inVain = 0;
    return at;
  }

  /** Returns where a known text ends that begins there. */
  #text(which: number, begin: number): number {
    const bytes = this.#bytes;
    const view = this.#view;
    const to = this.#tos[which]!;
    let known = this.#froms[which]!;
    let at = begin;
    if (at + to - known > bytes.length) return -1;
    for (; known + WORD <= to; known += WORD, at += WORD)
      if (view.getInt32(known, true) !== view.getInt32(at, true)) return -1;
    for (; known < to; known += 1, at += 1) if (bytes[known] !== bytes[at]) return -1;
    return at;
  }

  /** Returns where a value ends that begins there. */
  #value(kind: number, from: number, knownEnd: number): number {
    const bytes = this.#bytes;
    if (kind === OTHER) {
      const end = bytes[knownEnd]!;
      let at = from;
      while (bytes[at] !== end && TEXT[bytes[at]!] === 1) at += 1;
      return at;
    }
    if (kind === TIME) {
      const to = this.#moments.read(bytes, from);
      this.row[0] = this.#moments.value;
      return to;
    }
    const to = this.#decimals.read(bytes, from);
    this.row[kind - TIME] = this.#decimals.value;
    return to;
  }
}
