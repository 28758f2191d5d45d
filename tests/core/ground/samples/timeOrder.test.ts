import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { longestRising } from '../../../../src/core/ground/samples/timeOrder.js';

const run = (...keys: number[]): number[] => Array.from(longestRising(Float64Array.from(keys)));

describe('the longest rising run', () => {
  it('is all of them when they rise', () => expect(run(1, 2, 5)).toEqual([0, 1, 2]));
  it('is nothing of nothing', () => expect(run()).toEqual([]));
  it('drops the one that went back', () => expect(run(1, 2, 1.5, 3, 4)).toHaveLength(4));
  it('drops one glitch ahead, not all that follow it', () =>
    expect(run(1, 900, 2, 3, 4)).toEqual([0, 2, 3, 4]));
  it('keeps one of a repeated key', () => expect(run(1, 2, 2, 3)).toHaveLength(3));

  it('rises, and is as long as the slow way finds', () => {
    const lengthOf = (keys: readonly number[]): number => {
      const best: number[] = [];
      keys.forEach((key, i) => {
        best[i] = 1 + Math.max(0, ...best.slice(0, i).filter((_, k) => keys[k]! < key));
      });
      return Math.max(0, ...best);
    };
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 30 }), { maxLength: 40 }), (keys) => {
        const picked = run(...keys);
        const values = picked.map((i) => keys[i]!);
        expect(values.every((value, k) => k === 0 || value > values[k - 1]!)).toBe(true);
        expect(picked).toHaveLength(lengthOf(keys));
      }),
      { seed: 3, numRuns: 300 },
    );
  });
});
