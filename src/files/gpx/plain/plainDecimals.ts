import { decimalOf } from '../../xml/xmlValues.js';
import { textIn } from './plainText.js';

const ZERO = 48;
const [PLUS, MINUS, DOT] = [43, 45, 46];

/** So many digits are whole in a double, so that one division by a power of ten rounds as the text would. */
const MOST_DIGITS = 15;
/** So many fit a whole number of 32 bits, in which sums are quick. */
const SHORT_DIGITS = 9;
/** Powers of ten that a double holds exactly. */
const POWERS = Array.from({ length: 23 }, (_, i) => 10 ** i);

/** Reads decimals where they stand, as `decimalOf` does. Source: Clinger 1990 for why the short way is exact. */
export class PlainDecimals {
  /** What was read last; kept here, for a number that is handed back may cost memory. */
  value = Number.NaN;
  #to = 0;
  #digits = 0;
  /** How many digits stand before the point; -1 without one. */
  #beforePoint = -1;

  /** Returns the decimal that stands between, NaN where that is none. */
  in(bytes: Uint8Array, from: number, to: number): number {
    return this.read(bytes, from) === to ? this.value : decimalOf(textIn(bytes, from, to));
  }

  /** Reads the decimal that begins here; returns where it ends, -1 where none does. */
  read(bytes: Uint8Array, from: number): number {
    const first = bytes[from];
    this.#to = first === MINUS || first === PLUS ? from + 1 : from;
    this.#digits = 0;
    this.#beforePoint = -1;
    let upper = this.#sum(bytes, SHORT_DIGITS);
    let digits = this.#digits;
    if (digits === 0) return -1;
    if (digits === SHORT_DIGITS) {
      const more = this.#sum(bytes, MOST_DIGITS);
      digits = this.#digits;
      upper = upper * POWERS[digits - SHORT_DIGITS]! + more;
    }
    const decimals = this.#beforePoint < 0 ? 0 : digits - this.#beforePoint;
    let value = decimals > 0 ? upper / POWERS[decimals]! : upper;
    if (digits === MOST_DIGITS) value = this.#long(bytes, from, upper);
    this.value = first === MINUS ? -value : value;
    return this.#to;
  }

  /** Returns what the digits and those that follow make, without the sign. */
  #long(bytes: Uint8Array, from: number, upper: number): number {
    let rest = this.#sum(bytes, MOST_DIGITS + SHORT_DIGITS);
    const before = this.#digits;
    const more = this.#sum(bytes, 2 * MOST_DIGITS);
    rest = rest * POWERS[this.#digits - before]! + more;
    this.#sum(bytes, Number.POSITIVE_INFINITY);
    const decimals = this.#beforePoint < 0 ? 0 : this.#digits - this.#beforePoint;
    const value = longQuotient(upper, rest, this.#digits - MOST_DIGITS, decimals);
    return Number.isNaN(value) ? Math.abs(Number(textIn(bytes, from, this.#to))) : value;
  }

  /** Returns what the next digits make, until there are so many in all. */
  #sum(bytes: Uint8Array, most: number): number {
    let sum = 0;
    let digits = this.#digits;
    let at = this.#to;
    for (; ; at += 1) {
      const digit = bytes[at]! - ZERO;
      if (digit >= 0 && digit <= 9) {
        if (digits === most) break;
        sum = sum * 10 + digit;
        digits += 1;
      } else if (digit === DOT - ZERO && this.#beforePoint < 0) this.#beforePoint = digits;
      else break;
    }
    this.#digits = digits;
    this.#to = at;
    return sum;
  }
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
