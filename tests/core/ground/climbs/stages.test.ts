import { describe, expect, it } from 'vitest';
import { ascentsOf, stagesOf, workAt } from '../../../../src/core/ground/climbs/stages.js';
import { GRID_S } from '../../../../src/core/ground/samples/timeGrid.js';
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

// Source: the work against gravity, g·v upward, for each kilogram; 0.5 m/s upward is 1 800 m an hour.
it('the work of a climb is above all its height', () => {
  expect(workAt(0.5, 0)).toBeCloseTo(9.81 / 2, 6);
  expect(workAt(0.3, 4)).toBeGreaterThan(9.81 * 0.3);
});
