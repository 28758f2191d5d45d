import fc from 'fast-check';
import { expect, it } from 'vitest';
import { isotonic } from '../../../src/core/chance/isotonic.js';

const weighed = fc.record({
  value: fc.integer({ min: -50, max: 50 }),
  weight: fc.integer({ min: 1, max: 9 }),
});

it('keeps what rises, and pools what falls to its mean', () => {
  expect(isotonic([])).toEqual([]);
  expect(isotonic([1, 2, 2, 5].map((value) => ({ value, weight: 1 })))).toEqual([1, 2, 2, 5]);
  expect(isotonic([5, 3, 1].map((value) => ({ value, weight: 1 })))).toEqual([3, 3, 3]);
});

it('rises, keeps the weighed sum, and no other rising values come nearer', () => {
  const distance = (a: readonly number[], of: readonly { value: number; weight: number }[]): number =>
    of.reduce((sum, { value, weight }, i) => sum + weight * (value - a[i]!) ** 2, 0);
  fc.assert(
    fc.property(
      fc.array(weighed, { minLength: 1, maxLength: 20 }),
      fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 20, maxLength: 20 }),
      (values, other) => {
        const fit = isotonic(values);
        for (let i = 1; i < fit.length; i++) expect(fit[i]! + 1e-9).toBeGreaterThanOrEqual(fit[i - 1]!);
        const sum = (of: readonly number[]) =>
          values.reduce((all, { weight }, i) => all + weight * of[i]!, 0);
        expect(sum(fit)).toBeCloseTo(sum(values.map(({ value }) => value)), 6);
        const rising = [...other].sort((a, b) => a - b);
        expect(distance(fit, values)).toBeLessThanOrEqual(distance(rising, values) + 1e-6);
      },
    ),
  );
});
