import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Chance,
  chanceAbove,
  coverOf,
  spreadOf,
  totalsOf,
} from '../../../src/core/chance/poissonBinomial.js';
import { seededRandom } from '../../../src/core/chance/seededRandom.js';

const times = (count: number, chance: number, size = 1): Chance[] =>
  Array.from({ length: count }, () => ({ chance, size }));

/** Every outcome, one by one: slow and obvious. */
function byListing(terms: readonly Chance[]): Map<number, number> {
  let outcomes = new Map([[0, 1]]);
  for (const { chance, size } of terms) {
    const next = new Map<number, number>();
    for (const [total, likely] of outcomes) {
      next.set(total, (next.get(total) ?? 0) + likely * (1 - chance));
      next.set(total + size, (next.get(total + size) ?? 0) + likely * chance);
    }
    outcomes = next;
  }
  return outcomes;
}

describe('totals of independent chances', () => {
  it('with nothing to come are zero for sure', () => {
    expect([...totalsOf([]).chances]).toEqual([1]);
    expect(spreadOf(totalsOf([{ chance: 0, size: 60 }]))).toEqual({ mean: 0, p10: 0, p50: 0, p90: 0 });
  });

  it('six at 0.9, four at 0.5 and ten at 0.1 of whom half come: 8.4 fall due, 4.2 are expected, 6 covers 90 %', () => {
    const due = [...times(6, 0.9), ...times(4, 0.5), ...times(10, 0.1)];
    expect(spreadOf(totalsOf(due)).mean).toBeCloseTo(8.4, 12);
    const coming = totalsOf(due.map(({ chance, size }) => ({ chance: chance * 0.5, size })));
    expect(spreadOf(coming).mean).toBeCloseTo(4.2, 12);
    expect(coverOf(coming, 0.9)).toBe(6);
    expect(chanceAbove(coming, 6)).toBeLessThan(0.1);
    expect(chanceAbove(coming, 5)).toBeGreaterThan(0.1);
  });

  it('agree with drawing lots: each of 20 000 draws is that many coins', () => {
    const chances = [...times(6, 0.45), ...times(4, 0.25), ...times(10, 0.05)];
    const { chances: exact } = totalsOf(chances);
    const random = seededRandom('lots');
    const counts = new Float64Array(exact.length);
    const draws = 20_000;
    for (let i = 0; i < draws; i++) {
      let total = 0;
      for (const { chance } of chances) if (random() < chance) total++;
      counts[total]!++;
    }
    for (const [total, chance] of exact.entries()) {
      // Five standard errors of a share: a fault of the law would be far beyond, chance is not.
      const error = Math.sqrt((chance * (1 - chance)) / draws);
      expect(Math.abs(counts[total]! / draws - chance)).toBeLessThanOrEqual(5 * error + 1e-4);
    }
  });

  it('agree with listing every outcome, whatever the sizes', () => {
    const term = fc.record({
      chance: fc.double({ min: 0, max: 1, noNaN: true }),
      size: fc.constantFrom(20, 30, 60, 120, 150, 47, 2.5),
    });
    fc.assert(
      fc.property(fc.array(term, { maxLength: 9 }), (terms) => {
        const { step, chances } = totalsOf(terms);
        const listed = byListing(terms);
        for (const [i, chance] of chances.entries())
          expect(chance).toBeCloseTo(listed.get(Math.round(i * step * 1000) / 1000) ?? 0, 9);
        expect(chances.reduce((sum, chance) => sum + chance, 0)).toBeCloseTo(1, 9);
      }),
    );
  });

  it('count minutes as many as each job takes', () => {
    const { step, chances } = totalsOf([...times(2, 1, 60), { chance: 0.25, size: 150 }]);
    expect(step).toBe(30);
    expect([chances[4], chances[9]]).toEqual([0.75, 0.25]);
    expect(spreadOf({ step, chances })).toEqual({ mean: 157.5, p10: 120, p50: 120, p90: 270 });
  });
});
