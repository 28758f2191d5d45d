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
  /** Behind the decimal that was read last; where none was, from where it was looked for. */
  to = 0;
  #digits = 0;
  /** How many digits stand before the point; -1 without one. */
  #beforePoint = -1;

  /** Returns the decimal that stands between, NaN where that is none. */
  in(bytes: Uint8Array, from: number, to: number): number {
    const value = this.at(bytes, from);
    return this.to === to ? value : decimalOf(textIn(bytes, from, to));
  }

  /** Returns the decimal that begins here, NaN where none does. */
  at(bytes: Uint8Array, from: number): number {
    const first = bytes[from];
    this.to = first === MINUS || first === PLUS ? from + 1 : from;
    this.#digits = 0;
    this.#beforePoint = -1;
    const upper = this.#sum(bytes, MOST_DIGITS);
    const rest = this.#digits < MOST_DIGITS ? 0 : this.#sum(bytes, 2 * MOST_DIGITS);
    if (this.#digits === 2 * MOST_DIGITS) this.#shortSum(bytes, Number.POSITIVE_INFINITY);
    const digits = this.#digits;
    if (digits === 0) {
      this.to = from;
      return Number.NaN;
    }
    const decimals = this.#beforePoint < 0 ? 0 : digits - this.#beforePoint;
    const value =
      digits > MOST_DIGITS
        ? longQuotient(upper, rest, digits - MOST_DIGITS, decimals)
        : decimals > 0
          ? upper / POWERS[decimals]!
          : upper;
    if (Number.isNaN(value)) return Number(textIn(bytes, from, this.to));
    return first === MINUS ? -value : value;
  }

  /** Returns what the next digits make, until there are so many. */
  #sum(bytes: Uint8Array, most: number): number {
    const sum = this.#shortSum(bytes, Math.min(most, this.#digits + SHORT_DIGITS));
    const before = this.#digits;
    const more = this.#shortSum(bytes, most);
    return sum * POWERS[this.#digits - before]! + more;
  }

  #shortSum(bytes: Uint8Array, most: number): number {
    let sum = 0;
    let digits = this.#digits;
    let at = this.to;
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
    this.to = at;
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
