import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dayNumber, dayOfNumber } from '../../../src/core/days/dayNumber.js';
import { type RideHours, rideWeeks } from '../../../src/core/forecast/rideWeeks.js';
import { day } from '../../../src/units.js';

const TODAY = day('2025-06-15');
const ride = (daysAgo: number, movingS: number): RideHours => ({
  day: dayOfNumber(dayNumber(TODAY) - daysAgo),
  movingS,
  terrainMs: movingS * 1500,
});

describe('ride weeks', () => {
  it('end today and keep the weekday', () => {
    const weeks = rideWeeks([ride(0, 100), ride(6, 10), ride(7, 1), ride(0, 200)], TODAY, 104);
    expect(weeks.map((week) => week.movingS)).toEqual([310, 1]);
    expect(weeks[0]!.dayMovingS).toEqual([10, 0, 0, 0, 0, 0, 300]);
    expect(weeks[1]!.dayMovingS).toEqual([0, 0, 0, 0, 0, 0, 1]);
    expect(weeks[0]!.dayTerrainMs[6]).toBe(450_000);
  });

  it('keep empty weeks in between, leave out the future and what is beyond the limit', () => {
    expect(rideWeeks([ride(-1, 5), ride(15, 7)], TODAY, 104).map((week) => week.movingS)).toEqual([0, 0, 7]);
    expect(rideWeeks([ride(800, 7)], TODAY, 10)).toHaveLength(10);
    expect(rideWeeks([ride(-3, 7)], TODAY, 10)).toEqual([]);
  });

  it('lose nothing and do not depend on order', () => {
    const rides = fc.array(fc.tuple(fc.nat(300), fc.nat(20_000)).map(([ago, s]) => ride(ago, s)));
    fc.assert(
      fc.property(rides, (list) => {
        const weeks = rideWeeks(list, TODAY, 104);
        const total = (amounts: readonly number[]): number => amounts.reduce((sum, s) => sum + s, 0);
        expect(total(weeks.map((week) => week.movingS))).toBe(total(list.map((one) => one.movingS)));
        for (const week of weeks) expect(total(week.dayTerrainMs)).toBe(week.terrainMs);
        expect(rideWeeks([...list].reverse(), TODAY, 104)).toEqual(weeks);
      }),
    );
  });
});
