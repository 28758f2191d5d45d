import { HOUR_MS, MINUTE_MS, SECOND_MS } from '../../../units.js';
import { dateTimeOf } from '../../xml/xmlValues.js';
import { textIn } from './plainText.js';

const ZERO = 48;
const [DOT, COLON, LETTER_T, LETTER_Z] = [46, 58, 84, 90];

/** `YYYY-MM-DD`, which most points share with the one before. */
const DAY_SIGNS = 10;

/** Reads the moments of one track. */
export class PlainMoments {
  /** What was read last. Units: milliseconds since 1970. */
  value = Number.NaN;
  readonly #day = new Uint8Array(DAY_SIGNS);
  #dayMs = Number.NaN;

  /** Returns the moment that stands between, as `dateTimeOf` reads it; null where it is not plain. */
  in(bytes: Uint8Array, from: number, to: number): number | null {
    return this.read(bytes, from) === to ? this.value : null;
  }

  /**
   * Reads the `YYYY-MM-DDThh:mm:ssZ`, with up to three decimals, that begins here, as `dateTimeOf` does; returns where it
   * ends, -1 where none begins.
   */
  read(bytes: Uint8Array, from: number): number {
    if (!this.#isSameDay(bytes, from) && !this.#setDay(bytes, from)) return -1;
    let at = from + DAY_SIGNS;
    const hour = two(bytes, at + 1);
    const minute = two(bytes, at + 4);
    const second = two(bytes, at + 7);
    const isTime = bytes[at] === LETTER_T && bytes[at + 3] === COLON && bytes[at + 6] === COLON;
    if (!isTime || hour < 0 || hour > 23 || minute < 0 || minute > 59 || second < 0 || second > 59) return -1;
    let ms = hour * HOUR_MS + minute * MINUTE_MS + second * SECOND_MS;
    at += 9;
    if (bytes[at] === DOT) {
      const first = at + 1;
      for (let worth = 100; worth >= 1; worth /= 10) {
        const digit = bytes[at + 1]! - ZERO;
        if (!(digit >= 0 && digit <= 9)) break;
        ms += digit * worth;
        at += 1;
      }
      at += 1;
      if (at === first) return -1;
    }
    if (bytes[at] !== LETTER_Z) return -1;
    this.value = this.#dayMs + ms;
    return at + 1;
  }

  #isSameDay(bytes: Uint8Array, from: number): boolean {
    const day = this.#day;
    for (let i = DAY_SIGNS - 1; i >= 0; i -= 1) if (day[i] !== bytes[from + i]) return false;
    return true;
  }

  #setDay(bytes: Uint8Array, from: number): boolean {
    const { ms } = dateTimeOf(`${textIn(bytes, from, from + DAY_SIGNS)}T00:00:00Z`);
    if (Number.isNaN(ms)) return false;
    this.#day.set(bytes.subarray(from, from + DAY_SIGNS));
    this.#dayMs = ms;
    return true;
  }
}

/** -1 where they are no digits. */
function two(bytes: Uint8Array, at: number): number {
  const tens = bytes[at]! - ZERO;
  const ones = bytes[at + 1]! - ZERO;
  return tens >= 0 && tens <= 9 && ones >= 0 && ones <= 9 ? tens * 10 + ones : -1;
}
