import { expect, it } from 'vitest';
import { joined, quantile } from '../../src/core/quantile.js';

it('finds the middle and the ends without changing the values', () => {
  const values = Float64Array.of(5, 1, 3, 2, 4);
  expect([0, 0.5, 1].map((share) => quantile(values, share))).toEqual([1, 3, 5]);
  expect([...values]).toEqual([5, 1, 3, 2, 4]);
  expect(quantile(new Float64Array(), 0.5)).toBeNaN();
});

it('joins columns in order', () => {
  expect([...joined([Float64Array.of(1, 2), new Float64Array(), Float64Array.of(3)])]).toEqual([1, 2, 3]);
});
