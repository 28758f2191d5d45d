import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decimalIn, PlainMoments } from '../../../../src/files/gpx/plain/plainValues.js';
import { dateTimeOf, decimalOf } from '../../../../src/files/xml/xmlValues.js';

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(`<${text}>`);

/** Right between two doubles: 54 bits, the last one set, over a power of two that has few decimals. */
const HALFWAY = fc
  .tuple(fc.bigInt({ min: 2n ** 52n, max: 2n ** 53n - 1n }), fc.integer({ min: 1, max: 22 }))
  .map(([half, decimals]) => {
    const digits = String((2n * half + 1n) * 5n ** BigInt(decimals)).padStart(decimals + 1, '0');
    return `${digits.slice(0, -decimals)}.${digits.slice(-decimals)}`;
  });

const NUMBER = fc.oneof(
  HALFWAY,
  fc.tuple(HALFWAY, fc.constantFrom('0', '1', '00001')).map(([text, more]) => text + more),
  fc.stringMatching(/^-?\d{0,4}\.\d{12,32}$/),
  fc.double({ min: -180, max: 180, noNaN: true }).map((value) => value.toFixed(20)),
  fc.stringMatching(/^[+-]?\d{0,12}\.?\d{0,10}$/),
  fc.stringMatching(/^[ +.\d-]{0,8}$/),
  fc.double().map(String),
  fc.string({ maxLength: 6 }),
);

describe('values in bytes', () => {
  it('are the numbers that the text stands for, to the last bit', () => {
    fc.assert(
      fc.property(NUMBER, (text) => {
        const bytes = bytesOf(text);
        expect(Object.is(decimalIn(bytes, 1, bytes.length - 1), decimalOf(text)), text).toBe(true);
      }),
      { numRuns: 5000 },
    );
  });

  it('are the moments that the text stands for, or none', () => {
    const two = (most: number) => fc.integer({ min: 0, max: most }).map((n) => String(n).padStart(2, '0'));
    const stamp = fc
      .tuple(fc.integer({ min: 0, max: 9999 }), two(13), two(32), two(25), two(61), two(61))
      .map(([y, mo, d, h, mi, s]) => `${String(y).padStart(4, '0')}-${mo}-${d}T${h}:${mi}:${s}`);
    const ends = fc.oneof(fc.constantFrom('Z', '', 'z', '+01:00', '.Z'), fc.stringMatching(/^\.\d{1,4}Z$/));
    const moments = new PlainMoments();
    let taken = 0;
    fc.assert(
      fc.property(stamp, ends, (day, end) => {
        const text = `${day}${end}`;
        const bytes = bytesOf(text);
        const ms = moments.in(bytes, 1, bytes.length - 1);
        if (ms === null) return;
        taken += 1;
        expect({ ms, zoned: true }, text).toEqual(dateTimeOf(text));
      }),
      { numRuns: 5000 },
    );
    expect(taken).toBeGreaterThan(500);
  });
});
