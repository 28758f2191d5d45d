import { expect, it } from 'vitest';
import { seeded } from '../../samples/seeded.js';

it('repeats itself for a seed and differs between seeds', () => {
  const draw = (seed: string) => {
    const chance = seeded(seed);
    return Array.from({ length: 5 }, () => chance.next());
  };
  expect(draw('a')).toEqual(draw('a'));
  expect(draw('a')).not.toEqual(draw('b'));
});

it('draws evenly between 0 and 1, and normally with mean 0 and deviation 1', () => {
  const chance = seeded('spread');
  const even = Array.from({ length: 20_000 }, () => chance.next());
  const normal = Array.from({ length: 20_000 }, () => chance.normal());
  const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;
  expect(Math.min(...even)).toBeGreaterThanOrEqual(0);
  expect(Math.max(...even)).toBeLessThan(1);
  // Four standard errors of the mean of 20 000 draws.
  expect(Math.abs(mean(even) - 0.5)).toBeLessThan((4 * Math.sqrt(1 / 12)) / Math.sqrt(20_000));
  expect(Math.abs(mean(normal))).toBeLessThan(4 / Math.sqrt(20_000));
  expect(mean(normal.map((v) => v * v))).toBeCloseTo(1, 1);
});
