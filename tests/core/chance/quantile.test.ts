import fc from 'fast-check';
import { expect, it } from 'vitest';
import { joined, quantile } from '../../../src/core/chance/quantile.js';

it('finds the middle and the ends without changing the values', () => {
  const values = Float64Array.of(5, 1, 3, 2, 4);
  expect([0, 0.5, 1].map((share) => quantile(values, share))).toEqual([1, 3, 5]);
  expect([...values]).toEqual([5, 1, 3, 2, 4]);
  expect(quantile(new Float64Array(), 0.5)).toBeNaN();
});

it('finds what a full sort finds, in any order and with many alike', () => {
  const values = fc.oneof(
    fc.array(fc.integer({ min: 0, max: 5 }), { minLength: 1, maxLength: 300 }),
    fc.array(fc.double({ noNaN: true }), { minLength: 1, maxLength: 300 }),
  );
  fc.assert(
    fc.property(values, fc.double({ min: 0, max: 1, noNaN: true }), (list, share) => {
      const sorted = Float64Array.from(list).sort();
      const found = quantile(Float64Array.from(list), share);
      // Zero and minus zero are alike.
      expect(found + 0).toBe(sorted[Math.floor(share * (list.length - 1))]! + 0);
    }),
  );
});

it('joins columns in order', () => {
  expect([...joined([Float64Array.of(1, 2), new Float64Array(), Float64Array.of(3)])]).toEqual([1, 2, 3]);
});
