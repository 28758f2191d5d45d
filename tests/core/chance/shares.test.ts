import { expect, it } from 'vitest';
import { shareDifference, shareRange } from '../../../src/core/chance/shares.js';

/** Source: R. G. Newcombe 1998, Statistics in Medicine 17, 857 to 872, table I, method 3; values from memory. */
it.each([
  [81, 263, 0.2553, 0.3662],
  [15, 148, 0.0624, 0.1605],
  [0, 20, 0, 0.1611],
  [1, 29, 0.0061, 0.1718],
])('the range of %i in %i is that of the score interval', (hits, of, low, high) => {
  const range = shareRange({ hits, of }, 0.95);
  expect(range.low).toBeCloseTo(low, 4);
  expect(range.high).toBeCloseTo(high, 4);
});

/** Source: R. G. Newcombe 1998, Statistics in Medicine 17, 873 to 890, table II, method 10; values from memory. */
it.each([
  [56, 70, 48, 80, 0.0524, 0.3339],
  [9, 10, 3, 10, 0.1705, 0.809],
  [5, 56, 0, 29, -0.0381, 0.1926],
  [10, 10, 0, 20, 0.6791, 1],
])('the range of %i in %i less %i in %i is that of method 10', (a, m, b, n, low, high) => {
  const range = shareDifference({ hits: a, of: m }, { hits: b, of: n }, 0.95);
  expect(range.low).toBeCloseTo(low, 4);
  expect(range.high).toBeCloseTo(high, 4);
});

it('without a word it is the range of eight in ten, and never beyond none and all', () => {
  const none = shareRange({ hits: 0, of: 20 });
  expect([none.low, none.share]).toEqual([0, 0]);
  expect(none.high).toBeLessThan(shareRange({ hits: 0, of: 20 }, 0.95).high);
  expect(shareRange({ hits: 20, of: 20 }).high).toBe(1);
});
