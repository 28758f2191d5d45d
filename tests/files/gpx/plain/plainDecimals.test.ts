import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { PlainDecimals } from '../../../../src/files/gpx/plain/plainDecimals.js';
import { decimalOf } from '../../../../src/files/xml/xmlValues.js';

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

describe('decimals in bytes', () => {
  const decimals = new PlainDecimals();

  it('are the numbers that the text stands for, to the last bit', () => {
    fc.assert(
      fc.property(NUMBER, (text) => {
        const bytes = bytesOf(text);
        expect(Object.is(decimals.in(bytes, 1, bytes.length - 1), decimalOf(text)), text).toBe(true);
      }),
      { numRuns: 5000 },
    );
  });

  it('end where the next sign belongs to no decimal', () => {
    for (const [text, end] of [
      ['12.5"', 5],
      ['-0.25<', 6],
      ['1.2.3', 4],
      ['5. ', 3],
      ['+.5x', 4],
      ['x1', -1],
      ['-', -1],
      ['.', -1],
      [`${'1'.repeat(40)}"`, 41],
    ] as const) {
      expect(decimals.read(bytesOf(text), 1), text).toBe(end);
    }
  });
});
