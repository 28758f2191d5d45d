import { SECOND_MS } from '../../../units.js';
import { dateTimeOf } from '../../xml/xmlValues.js';
import { textIn } from './plainText.js';

const ZERO = 48;
const [DOT, COLON, LETTER_Z] = [46, 58, 90];

/** `YYYY-MM-DDThh:mm`, which most points share with the one before. */
const MINUTE_SIGNS = 16;
const MINUTE = /^\d{4}-\d\d-\d\dT\d\d:\d\d$/;

/** Reads the moments of one track. */
export class PlainMoments {
  /** Behind the moment that was read last; where none was, from where it was looked for. */
  to = 0;
  readonly #minute = new Uint8Array(MINUTE_SIGNS);
  #minuteMs = Number.NaN;

  /** Returns the moment that stands between, as `dateTimeOf` reads it; null where it is not plain. */
  in(bytes: Uint8Array, from: number, to: number): number | null {
    const ms = this.at(bytes, from);
    return this.to === to ? ms : null;
  }

  /**
   * Returns what `dateTimeOf` makes of the `YYYY-MM-DDThh:mm:ssZ`, with up to three decimals, that begins here; NaN where
   * none does.
   */
  at(bytes: Uint8Array, from: number): number {
    this.to = from;
    if (!this.#isSameMinute(bytes, from) && !this.#setMinute(bytes, from)) return Number.NaN;
    let at = from + MINUTE_SIGNS;
    const tens = bytes[at + 1]! - ZERO;
    const ones = bytes[at + 2]! - ZERO;
    if (bytes[at] !== COLON || !(tens >= 0 && tens <= 5 && ones >= 0 && ones <= 9)) return Number.NaN;
    let ms = (tens * 10 + ones) * SECOND_MS;
    at += 3;
    if (bytes[at] === DOT) {
      const first = at + 1;
      for (let worth = 100; worth >= 1; worth /= 10) {
        const digit = bytes[at + 1]! - ZERO;
        if (!(digit >= 0 && digit <= 9)) break;
        ms += digit * worth;
        at += 1;
      }
      at += 1;
      if (at === first) return Number.NaN;
    }
    if (bytes[at] !== LETTER_Z) return Number.NaN;
    this.to = at + 1;
    return this.#minuteMs + ms;
  }

  #isSameMinute(bytes: Uint8Array, from: number): boolean {
    const minute = this.#minute;
    for (let i = MINUTE_SIGNS - 1; i >= 0; i -= 1) if (minute[i] !== bytes[from + i]) return false;
    return true;
  }

  #setMinute(bytes: Uint8Array, from: number): boolean {
    const text = textIn(bytes, from, from + MINUTE_SIGNS);
    if (!MINUTE.test(text)) return false;
    const { ms } = dateTimeOf(`${text}:00Z`);
    if (Number.isNaN(ms)) return false;
    this.#minute.set(bytes.subarray(from, from + MINUTE_SIGNS));
    this.#minuteMs = ms;
    return true;
  }
}
