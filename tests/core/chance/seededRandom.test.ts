import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/core/chance/seededRandom.js';

const draws = (seed: string, count: number): number[] => {
  const random = seededRandom(seed);
  return Array.from({ length: count }, () => random());
};

describe('seeded random numbers', () => {
  it('are the same for the same seed and others for a neighbouring one', () => {
    expect(draws('F-0412 lower-leg', 5)).toEqual(draws('F-0412 lower-leg', 5));
    const other = new Set(draws('F-0413 lower-leg', 5));
    expect(draws('F-0412 lower-leg', 5).filter((x) => other.has(x))).toEqual([]);
  });

  it('fill the unit interval evenly', () => {
    const bins = Array<number>(20).fill(0);
    for (const x of draws('even', 20_000)) bins[Math.floor(x * 20)]!++;
    const chiSquare = bins.reduce((sum, count) => sum + (count - 1000) ** 2 / 1000, 0);
    // 99.9 % of even generators stay below this with 19 degrees of freedom (from memory).
    expect(chiSquare).toBeLessThan(43.8);
  });

  it('are not alike in sequences of numbered seeds', () => {
    const firsts = Array.from({ length: 4000 }, (_, i) => draws(`path ${i}`, 1)[0]!);
    const mean = firsts.reduce((sum, x) => sum + x, 0) / firsts.length;
    const lagged = firsts.slice(1).reduce((sum, x, i) => sum + (x - 0.5) * (firsts[i]! - 0.5), 0);
    expect(Math.abs(mean - 0.5)).toBeLessThan(0.02);
    expect(Math.abs(lagged / firsts.length / (1 / 12))).toBeLessThan(0.07);
  });
});
