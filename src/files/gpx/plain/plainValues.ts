import { dateTimeOf, decimalOf } from '../../xml/xmlValues.js';

const ZERO = 48;
const NINE = 57;
const [PLUS, MINUS, DOT, COLON, LETTER_T, LETTER_Z] = [43, 45, 46, 58, 84, 90];

/** So many digits are whole in a double, so that one division by a power of ten rounds as the text would. */
const MOST_DIGITS = 15;
/** Powers of ten that a double holds exactly. */
const POWERS = Array.from({ length: 23 }, (_, i) => 10 ** i);

const utf8 = new TextDecoder();
export const textIn = (bytes: Uint8Array, from: number, to: number): string =>
  utf8.decode(bytes.subarray(from, to));

/** The same of a few signs that are known to be ASCII. */
const asciiIn = (bytes: Uint8Array, from: number, to: number): string => {
  let text = '';
  for (let at = from; at < to; at += 1) text += SIGNS[bytes[at]!]!;
  return text;
};
const SIGNS = Array.from({ length: 128 }, (_, c) => String.fromCharCode(c));

/** Returns what `decimalOf` makes of the text between. Source: Clinger 1990 for why the short way is exact. */
export function decimalIn(bytes: Uint8Array, from: number, to: number): number {
  let at = from;
  const first = bytes[at];
  if (first === MINUS || first === PLUS) at += 1;
  let whole = 0;
  let rest = 0;
  let digits = 0;
  let decimals = -1;
  for (; at < to; at += 1) {
    const c = bytes[at]!;
    if (c >= ZERO && c <= NINE) {
      if (digits < MOST_DIGITS) whole = whole * 10 + (c - ZERO);
      else rest = rest * 10 + (c - ZERO);
      digits += 1;
      if (decimals >= 0) decimals += 1;
    } else if (c === DOT && decimals < 0) decimals = 0;
    else return decimalOf(textIn(bytes, from, to));
  }
  if (digits === 0) return decimalOf(textIn(bytes, from, to));
  const value =
    digits > MOST_DIGITS
      ? longQuotient(whole, rest, digits - MOST_DIGITS, Math.max(0, decimals))
      : decimals > 0
        ? whole / POWERS[decimals]!
        : whole;
  if (Number.isNaN(value)) return Number(asciiIn(bytes, from, to));
  return first === MINUS ? -value : value;
}

/** Splits a double into two halves of which products are exact. */
const SPLITTER = 2 ** 27 + 1;
const upperHalf = (value: number): number => {
  const shifted = SPLITTER * value;
  return shifted - (shifted - value);
};

/** Returns by how much the product of two doubles, as rounded, falls short of what it is. */
function productError(a: number, b: number, product: number): number {
  const aHigh = upperHalf(a);
  const bHigh = upperHalf(b);
  const aLow = a - aHigh;
  const bLow = b - bHigh;
  return aHigh * bHigh - product + aHigh * bLow + aLow * bHigh + aLow * bLow;
}

/** The quotient is known to about 2^-100 of itself. */
const DOUBT = 2 ** -90;

/**
 * Returns the double nearest to (whole · 10^more + rest) / 10^decimals; NaN where these sums, of twice a double's digits,
 * leave open which it is. Source: Dekker 1971, exact products and quotients of doubled length.
 */
function longQuotient(whole: number, rest: number, more: number, decimals: number): number {
  if (more > MOST_DIGITS || decimals >= POWERS.length) return Number.NaN;
  const scale = POWERS[more]!;
  const product = whole * scale;
  const tail = productError(whole, scale, product) + rest;
  const sum = product + tail;
  const sumTail = tail - (sum - product);
  const divisor = POWERS[decimals]!;
  const quotient = sum / divisor;
  const back = quotient * divisor;
  const correction = (sum - back - productError(quotient, divisor, back) + sumTail) / divisor;
  const doubt = Math.abs(quotient) * DOUBT;
  const nearest = quotient + (correction - doubt);
  return nearest === quotient + (correction + doubt) ? nearest : Number.NaN;
}

/** Reads the moments of one track: most are of the same day. */
export class PlainMoments {
  #day = -1;
  #dayMs = 0;

  /** Returns what `dateTimeOf` makes of `YYYY-MM-DDThh:mm:ssZ`, with up to three decimals; null for any other shape. */
  in(bytes: Uint8Array, from: number, to: number): number | null {
    const length = to - from;
    if (length < 20 || length === 21 || length > 24 || bytes[to - 1] !== LETTER_Z) return null;
    if (bytes[from + 10] !== LETTER_T || bytes[from + 13] !== COLON || bytes[from + 16] !== COLON)
      return null;
    const day = dayIn(bytes, from);
    const hour = two(bytes, from + 11);
    const minute = two(bytes, from + 14);
    const second = two(bytes, from + 17);
    if (day < 0 || hour < 0 || hour > 23 || minute < 0 || minute > 59 || second < 0 || second > 59)
      return null;
    let ms = 0;
    if (length > 20) {
      if (bytes[from + 19] !== DOT) return null;
      for (let at = from + 20, worth = 100; at < to - 1; at += 1, worth /= 10) {
        const digit = bytes[at]! - ZERO;
        if (digit < 0 || digit > 9) return null;
        ms += digit * worth;
      }
    }
    if (day !== this.#day) {
      const { ms: start } = dateTimeOf(`${textIn(bytes, from, from + 10)}T00:00:00Z`);
      if (Number.isNaN(start)) return null;
      this.#day = day;
      this.#dayMs = start;
    }
    return this.#dayMs + Date.UTC(1970, 0, 1, hour, minute, second, ms);
  }
}

/** -1 where they are no digits. */
function two(bytes: Uint8Array, at: number): number {
  const tens = bytes[at]! - ZERO;
  const ones = bytes[at + 1]! - ZERO;
  return tens < 0 || tens > 9 || ones < 0 || ones > 9 ? -1 : tens * 10 + ones;
}

/** The day as one number of eight digits, -1 where it is not written as a day is. */
function dayIn(bytes: Uint8Array, from: number): number {
  const century = two(bytes, from);
  const year = two(bytes, from + 2);
  const month = two(bytes, from + 5);
  const day = two(bytes, from + 8);
  if (century < 0 || year < 0 || month < 0 || day < 0) return -1;
  if (bytes[from + 4] !== MINUS || bytes[from + 7] !== MINUS) return -1;
  return ((century * 100 + year) * 100 + month) * 100 + day;
}
