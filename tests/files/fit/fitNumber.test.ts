import { describe, expect, it } from 'vitest';
import { isNumber, numberAt } from '../../../src/files/fit/fitNumber.js';

const read = (baseType: number, bytes: readonly number[], littleEndian = true): number | undefined =>
  isNumber(baseType, bytes.length)
    ? numberAt(new DataView(Uint8Array.from(bytes).buffer), 0, baseType, littleEndian)
    : undefined;

describe('numbers of FIT fields', () => {
  // Source: FIT SDK, fit.js: base types and their invalid values.
  it.each([
    ['enum', 0, [0xff]],
    ['sint8', 1, [0x7f]],
    ['uint8', 2, [0xff]],
    ['sint16', 3, [0xff, 0x7f]],
    ['uint16', 4, [0xff, 0xff]],
    ['sint32', 5, [0xff, 0xff, 0xff, 0x7f]],
    ['uint32', 6, [0xff, 0xff, 0xff, 0xff]],
    ['float32', 8, [0xff, 0xff, 0xff, 0xff]],
    ['float64', 9, Array.from({ length: 8 }, () => 0xff)],
    ['uint8z', 10, [0]],
    ['uint16z', 11, [0, 0]],
    ['uint32z', 12, [0, 0, 0, 0]],
  ])('takes the invalid %s as missing', (_name, baseType, bytes) => {
    expect(read(baseType, bytes)).toBeNaN();
  });

  it('reads signs and both byte orders', () => {
    expect([read(1, [0xfe]), read(3, [0xfe, 0xff]), read(5, [0xfe, 0xff, 0xff, 0xff])]).toEqual([-2, -2, -2]);
    expect([read(4, [1, 2]), read(4, [1, 2], false)]).toEqual([513, 258]);
    expect([read(6, [0, 0, 0, 0x80]), read(8, [0, 0, 0xc0, 0x3f])]).toEqual([2 ** 31, 1.5]);
  });

  it('reads the first value of several, and nothing that is no number or too short', () => {
    expect(read(4, [1, 0, 2, 0])).toBe(1);
    expect([read(7, [65, 0]), read(13, [1, 2, 3]), read(6, [1, 2])]).toEqual([
      undefined,
      undefined,
      undefined,
    ]);
  });
});
