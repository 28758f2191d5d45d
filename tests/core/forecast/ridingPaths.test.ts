import { describe, expect, it } from 'vitest';
import type { RideWeek } from '../../../src/core/forecast/rideWeeks.js';
import { drawPaths, type HoursLeft, type RidingLaw } from '../../../src/core/forecast/ridingPaths.js';

const week = (dayMovingS: readonly number[], terrainPerMoving = 1000): RideWeek => {
  const dayTerrainMs = dayMovingS.map((s) => s * terrainPerMoving);
  const total = (amounts: readonly number[]): number => amounts.reduce((sum, s) => sum + s, 0);
  return { movingS: total(dayMovingS), terrainMs: total(dayTerrainMs), dayMovingS, dayTerrainMs };
};

const everyOtherWeek = (ridden: RideWeek, scale = 1): RidingLaw => ({
  season: Float64Array.of(1),
  begin: () => ({ scale, next: (ahead) => (ahead % 2 === 1 ? ridden : null) }),
});

const firstPassages = (law: RidingLaw, left: HoursLeft, paths: number, horizon: number): Float64Array =>
  drawPaths(law, paths, horizon).firstPassages(left);

describe('first passages', () => {
  const wednesdayAndSaturday = week([0, 0, 100, 0, 0, 200, 0]);

  it('fall on the day that reaches the limit exactly, over weeks of rest', () => {
    const daysUntil = (movingS: number): number =>
      firstPassages(everyOtherWeek(wednesdayAndSaturday), { movingS, terrainMs: null }, 1, 52)[0]!;
    expect([100, 101, 300, 301, 400, 401].map(daysUntil)).toEqual([10, 13, 13, 24, 24, 27]);
  });

  it('take whichever limit comes first', () => {
    const days = (movingS: number | null, terrainMs: number | null): number =>
      firstPassages(everyOtherWeek(week([0, 0, 100, 0, 0, 200, 0], 2000)), { movingS, terrainMs }, 1, 52)[0]!;
    expect(days(null, 200_000)).toBe(10);
    expect(days(301, 200_000)).toBe(10);
    expect(days(100, 900_000)).toBe(10);
    expect(days(301, 900_000)).toBe(24);
  });

  it('count hours by the level of the path and end at the horizon', () => {
    const law = everyOtherWeek(wednesdayAndSaturday, 0.5);
    expect([...firstPassages(law, { movingS: 150, terrainMs: null }, 2, 52)]).toEqual([13, 13]);
    expect([...firstPassages(law, { movingS: 300, terrainMs: null }, 1, 3)]).toEqual([
      Number.POSITIVE_INFINITY,
    ]);
  });

  it('count hours by the season of the week', () => {
    const law = { ...everyOtherWeek(wednesdayAndSaturday), season: Float64Array.of(1, 2) };
    // The first ride week is the second, and counts double.
    expect([...drawPaths(law, 1, 52).firstPassages({ movingS: 600, terrainMs: null })]).toEqual([13]);
  });
});

describe('the mean of the first days', () => {
  it('is what the paths hold in them', () => {
    const paths = drawPaths(everyOtherWeek(week([0, 0, 100, 0, 0, 200, 0], 2000), 0.5), 3, 52);
    expect(paths.meanOfDays(0)).toEqual({ movingS: 0, terrainMs: 0 });
    expect(paths.meanOfDays(9)).toEqual({ movingS: 0, terrainMs: 0 });
    expect(paths.meanOfDays(10).movingS).toBeCloseTo(50, 9);
    expect(paths.meanOfDays(13).terrainMs).toBeCloseTo(300_000, 6);
  });
});
