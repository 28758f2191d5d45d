import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ascentsOf, riseAt, speedAt, stagesOf, workAt } from '../../../../src/core/ground/climbs/stages.js';
import { GRID_S, type TimeGrid } from '../../../../src/core/ground/samples/timeGrid.js';
import type { Leg } from '../../../fixtures/journey.js';
import { gridOf } from './gridOf.js';

const down: Leg = { seconds: 200, mps: 6, upMps: -1 };

describe('ways up', () => {
  it('go from their lowest to their highest point, and on through a dip of some metres', () => {
    const grid = gridOf([
      down,
      { seconds: 300, mps: 3, upMps: 0.3 },
      { seconds: 20, mps: 5, upMps: -0.4 },
      { seconds: 300, mps: 3, upMps: 0.3 },
      down,
    ]);
    const ascents = ascentsOf(grid);
    expect(ascents).toHaveLength(1);
    expect(Math.abs(ascents[0]!.from * GRID_S - 200)).toBeLessThanOrEqual(GRID_S);
    expect(Math.abs(ascents[0]!.to * GRID_S - 820)).toBeLessThanOrEqual(GRID_S);
  });

  it('are none where the ground rises by less than 30 m', () => {
    expect(ascentsOf(gridOf([down, { seconds: 100, mps: 4, upMps: 0.2 }, down]))).toEqual([]);
  });

  it('are cut where speed and work change, and nowhere else', () => {
    const grid = gridOf([
      down,
      { seconds: 300, mps: 8, upMps: 0.7 },
      { seconds: 400, mps: 3, upMps: 0.3 },
      down,
    ]);
    const stages = stagesOf(ascentsOf(grid)[0]!);
    expect(stages).toHaveLength(2);
    expect(Math.abs(stages[0]!.to * GRID_S - 500)).toBeLessThanOrEqual(3 * GRID_S);
  });
});

/** What a cut of the way costs, as the stages weigh it, looked at without any short way. */
function cheapestCost(grid: TimeGrid): { least: number; of: (cuts: readonly number[]) => number } {
  const n = grid.count - 1;
  const at = Array.from({ length: n }, (_, k) => {
    const mps = speedAt(grid, k, 0, n);
    return [Math.log(0.5 + mps) / 0.25, workAt(riseAt(grid, k), mps) / 1.2] as const;
  });
  const spread = (from: number, to: number, which: 0 | 1): number => {
    const values = at.slice(from, to).map((both) => both[which]);
    const mean = values.reduce((sum, one) => sum + one, 0) / values.length;
    return values.reduce((sum, one) => sum + (one - mean) ** 2, 0);
  };
  const cost = (from: number, to: number): number => spread(from, to, 0) + spread(from, to, 1) + 18;
  const best = [0];
  for (let b = 1; b <= n; b++) {
    best[b] = Number.POSITIVE_INFINITY;
    for (let a = 0; a <= b - 9; a++) best[b] = Math.min(best[b]!, best[a]! + cost(a, b));
  }
  const of = (cuts: readonly number[]): number =>
    cuts.slice(1).reduce((sum, to, i) => sum + cost(cuts[i]!, to), 0);
  return { least: best[n]!, of };
}

it('the stages of a way up cost no more than any others would', () => {
  const leg = fc.record({
    seconds: fc.integer({ min: 15, max: 200 }),
    mps: fc.double({ min: 0.3, max: 9, noNaN: true }),
    upMps: fc.double({ min: 0, max: 0.9, noNaN: true }),
  });
  let most = 0;
  fc.assert(
    fc.property(fc.array(leg, { minLength: 1, maxLength: 9 }), (legs) => {
      const grid = gridOf(legs);
      const stages = stagesOf({ grid, from: 0, to: grid.count - 1 });
      most = Math.max(most, stages.length);
      const { least, of } = cheapestCost(grid);
      if (Number.isFinite(least)) expect(of([0, ...stages.map(({ to }) => to)])).toBeCloseTo(least, 6);
    }),
    { numRuns: 60 },
  );
  expect(most).toBeGreaterThan(2);
});

// Source: the work against gravity, g·v upward, for each kilogram; 0.5 m/s upward is 1 800 m an hour.
it('the work of a climb is above all its height', () => {
  expect(workAt(0.5, 0)).toBeCloseTo(9.81 / 2, 6);
  expect(workAt(0.3, 4)).toBeGreaterThan(9.81 * 0.3);
});
