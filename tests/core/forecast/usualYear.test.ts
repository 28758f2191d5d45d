import { describe, expect, it } from 'vitest';
import { dayNumber } from '../../../src/core/days/dayNumber.js';
import type { Hemisphere } from '../../../src/core/forecast/hemisphere.js';
import type { RideWeek } from '../../../src/core/forecast/rideWeeks.js';
import { HABITS } from '../../../src/core/forecast/ridingHabits.js';
import { type UsualYear, usualYear, YEAR } from '../../../src/core/forecast/usualYear.js';
import { day } from '../../../src/units.js';

const week = (hours: number): RideWeek => ({
  movingS: hours * 3600,
  terrainMs: hours * 3_600_000,
  dayMovingS: [hours * 3600, 0, 0, 0, 0, 0, 0],
  dayTerrainMs: [hours * 3_600_000, 0, 0, 0, 0, 0, 0],
});

const usual = (
  hours: readonly number[],
  { lastDay = '2025-01-12', hemisphere = 0 as Hemisphere } = {},
): UsualYear => usualYear({ weeks: hours.map(week), lastDay: dayNumber(day(lastDay)), hemisphere }, HABITS);

const past = (count: number, hoursOf: (ago: number) => number): number[] =>
  Array.from({ length: count }, (_, ago) => hoursOf(ago));

describe('what a rider usually does', () => {
  it('is what others do where nothing is known', () => {
    const nobody = usual([]);
    expect(nobody.shareAt(0)).toBeCloseTo(HABITS.rideShare, 9);
    expect(nobody.hoursAt(0)).toBe(1);
    expect(nobody.weeksKnown).toBe(0);
  });

  it('is the rider’s own share, the more the more is known', () => {
    const share = (count: number): number => usual(past(count, () => 2)).shareAt(0);
    const others = HABITS.rideShare;
    expect(share(1)).toBeGreaterThan(others);
    expect(share(20)).toBeGreaterThan(share(1));
    expect(share(150)).toBeGreaterThan(0.9);
    // As many own weeks as others weigh: half way between. Fading is slow enough not to be seen here.
    expect(share(Math.round(HABITS.rideShareWorth))).toBeCloseTo((1 + others) / 2, 1);
  });

  it('follows the hemisphere where no own year is known, and turns with it', () => {
    const july = 26;
    const north = usual([], { hemisphere: 1 });
    const south = usual([], { hemisphere: -1 });
    expect(north.shareAt(july)).toBeGreaterThan(HABITS.rideShare + 0.15);
    expect(south.shareAt(july)).toBeLessThan(HABITS.rideShare - 0.15);
    expect(north.hoursAt(july) * south.hoursAt(july)).toBeCloseTo(1, 9);
  });

  it('learns a season of its own, in weeks and in hours, against the hemisphere too', () => {
    // Two years: rides of four hours in the half year around January, one of an hour every other week else.
    const winters = past(104, (ago) => (ago % YEAR < 13 || ago % YEAR >= 39 ? 4 : ago % 2));
    for (const hemisphere of [0, 1] as const) {
      const rider = usual(winters, { hemisphere });
      expect(rider.shareAt(0)).toBeGreaterThan(rider.shareAt(26) + 0.2);
      const others = usual([], { hemisphere });
      const longer = (of: UsualYear): number => of.hoursAt(0) / of.hoursAt(26);
      expect(longer(rider)).toBeGreaterThan(longer(others) * 1.2);
    }
  });

  it('does not judge a past week by itself', () => {
    const summer = past(20, () => 2);
    const lull = past(20, (ago) => (ago < 4 ? 0 : 2));
    // The share of four weeks ago comes from years before, and there are none.
    expect(usual(lull).shareAt(-2) - usual(lull).shareAt(-8)).toBeCloseTo(
      usual(summer).shareAt(-2) - usual(summer).shareAt(-8),
      9,
    );
  });
});
