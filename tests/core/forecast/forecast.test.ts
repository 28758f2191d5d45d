import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dayNumber, dayOfNumber } from '../../../src/core/days/dayNumber.js';
import {
  chanceReachedBy,
  forecastRiding,
  type HoursForecast,
  type KnownRiding,
  type RideHours,
} from '../../../src/core/forecast/forecast.js';
import { isComingUp, type Nearness } from '../../../src/core/ledger/comingUp.js';
import { day, HOUR_MS } from '../../../src/units.js';

const TODAY = day('2025-06-15');
const inDays = (count: number) => dayOfNumber(dayNumber(TODAY) + count);
const ride = (daysAgo: number, hours = 2): RideHours => ({
  day: inDays(-daysAgo),
  movingS: hours * 3600,
  terrainMs: hours * HOUR_MS,
});

const twiceAWeek = (weeks: number): RideHours[] =>
  Array.from({ length: weeks }, (_, w) => [ride(7 * w), ride(7 * w + 3)]).flat();

interface Asked extends KnownRiding {
  readonly terrainMsLeft: number | null;
  readonly movingSLeft: number | null;
}

const input = (hoursLeft: number | null, rides: readonly RideHours[], more: Partial<Asked> = {}): Asked => ({
  today: TODAY,
  knownUpTo: TODAY,
  filesBy: TODAY,
  rides,
  hemisphere: 1,
  terrainMsLeft: hoursLeft === null ? null : hoursLeft * HOUR_MS,
  movingSLeft: null,
  seed: 'b1 2025-06-15',
  ...more,
});

const forecastHours = ({ terrainMsLeft: terrainMs, movingSLeft: movingS, ...known }: Asked): HoursForecast =>
  forecastRiding(known).reach({ terrainMs, movingS });

const daysAhead = (given: Asked): number[] =>
  forecastHours(given).quantileDays.map((on) =>
    on === null ? Number.POSITIVE_INFINITY : dayNumber(on) - dayNumber(TODAY),
  );

describe('forecast of hours', () => {
  it('brackets the plain rate of a steady rider, and says how unsure it is', () => {
    const { likely } = forecastHours(input(20, twiceAWeek(60)));
    // Four hours a week: five weeks at that rate.
    expect(likely.p10! < inDays(35) && inDays(35) < likely.p90!).toBe(true);
    expect(likely.p50! > inDays(21) && likely.p50! < inDays(63)).toBe(true);
  });

  it('closes its range when few hours are left and the rider rides', () => {
    const [, low] = daysAhead(input(2, twiceAWeek(60)));
    const high = daysAhead(input(2, twiceAWeek(60)))[17]!;
    expect(low).toBeGreaterThanOrEqual(1);
    expect(high).toBeLessThan(28);
  });

  it('falls on weekdays that the rider rides', () => {
    const sundays = Array.from({ length: 60 }, (_, w) => ride(7 * w));
    const ownDays = daysAhead(input(10, sundays)).filter((ahead) => ahead % 7 === 0);
    expect(ownDays.length).toBeGreaterThan(15);
  });

  it('waits longer for a rider who stopped, but does not say never', () => {
    const stopped = twiceAWeek(60).filter(({ day: on }) => on <= inDays(-120));
    const { likely } = forecastHours(input(20, stopped));
    expect(likely.p50! > forecastHours(input(20, twiceAWeek(60))).likely.p50!).toBe(true);
    expect(likely.p50! < inDays(500)).toBe(true);
  });

  it('leans on other riders where nothing is known, with a wider range', () => {
    const unknown = daysAhead(input(20, []));
    const known = daysAhead(input(20, twiceAWeek(60)));
    expect(unknown[9]).toBeGreaterThan(14);
    expect(unknown[9]).toBeLessThan(300);
    expect(unknown[17]! / unknown[1]!).toBeGreaterThan(known[17]! / known[1]!);
  });

  it('gives today for hours already reached, also exactly, and nothing without a limit', () => {
    expect(forecastHours(input(0, [])).likely).toEqual({ p10: TODAY, p50: TODAY, p90: TODAY });
    expect(forecastHours(input(5, [], { movingSLeft: -3 })).likely.p90).toBe(TODAY);
    expect(forecastHours(input(null, twiceAWeek(60))).likely).toEqual({ p10: null, p50: null, p90: null });
  });

  it('gives null beyond its horizon of five years', () => {
    expect(forecastHours(input(20_000, twiceAWeek(60))).likely.p50).toBeNull();
  });

  it('counts weeks of rides from the first ride, and none in the future', () => {
    expect(forecastHours(input(5, twiceAWeek(6))).weeksOfRides).toBe(5);
    expect(forecastHours(input(5, [ride(-4)])).weeksOfRides).toBe(0);
    expect(forecastHours(input(5, [])).weeksOfRides).toBe(0);
  });

  it('closes around the days that a steady rider takes', () => {
    // Three years of six hours a week: 50 hours take 58 days.
    const steady = Array.from({ length: 156 }, (_, w) => [ride(7 * w, 3), ride(7 * w + 3, 3)]).flat();
    const ahead = daysAhead(input(50, steady));
    expect(ahead[9]! / 58).toBeGreaterThan(0.8);
    expect(ahead[9]! / 58).toBeLessThan(1.25);
    expect(ahead[17]! / ahead[1]!).toBeLessThan(3.5);
  });

  it('waits over the winter of a rider who rested in every one', () => {
    const autumn = day('2024-10-28');
    // Three seasons from April to October, four hours a week.
    const seasons = Array.from({ length: 183 }, (_, w) => 7 * w)
      .map((ago) => ride(dayNumber(TODAY) - dayNumber(autumn) + ago, 4))
      .filter((one) => ['04', '05', '06', '07', '08', '09', '10'].includes(one.day.slice(5, 7)));
    const middle = (hemisphere: 0 | 1): string =>
      forecastHours(input(12, seasons, { today: autumn, knownUpTo: autumn, hemisphere })).likely.p50!;
    expect(middle(1) > '2025-02-15', middle(1)).toBe(true);
    expect(middle(1) < '2025-06-15', middle(1)).toBe(true);
    // The rider's own three winters alone say less, but say it.
    expect(middle(0) > '2025-01-01', middle(0)).toBe(true);
  });

  it('takes a rider of whom nothing is known through the winter of the hemisphere', () => {
    const north = daysAhead(input(30, [], { hemisphere: 1 }));
    const south = daysAhead(input(30, [], { hemisphere: -1 }));
    // In June the north has its best weeks ahead.
    expect(north[9]!).toBeLessThan(south[9]!);
  });

  it('reads days after the last known one as unknown, not as rest', () => {
    const known = twiceAWeek(60).filter(({ day: on }) => on <= inDays(-21));
    const rested = forecastRiding(input(10, known));
    const unknown = forecastRiding(input(10, known, { knownUpTo: inDays(-21) }));
    expect(rested.expectedSince).toEqual({ movingS: 0, terrainMs: 0 });
    // Three weeks at about four hours.
    const hours = unknown.expectedSince.terrainMs / HOUR_MS;
    expect(hours).toBeGreaterThan(8);
    expect(hours).toBeLessThan(16);
    expect(unknown.expectedSince.movingS * 1000).toBeCloseTo(unknown.expectedSince.terrainMs, 3);
    const left = { terrainMs: 10 * HOUR_MS, movingS: null };
    expect(unknown.reach(left).likely.p50! < rested.reach(left).likely.p50!).toBe(true);
    // What may have been reached by now gives today, never a day gone by.
    expect(unknown.reach({ terrainMs: HOUR_MS, movingS: null }).likely).toEqual({
      p10: TODAY,
      p50: TODAY,
      p90: TODAY,
    });
  });

  it('gives the same whatever else is read off its paths before', () => {
    const [one, other] = [forecastRiding(input(0, twiceAWeek(30))), forecastRiding(input(0, twiceAWeek(30)))];
    other.reach({ terrainMs: 200 * HOUR_MS, movingS: null });
    const left = { terrainMs: 20 * HOUR_MS, movingS: null };
    expect(other.reach(left)).toEqual(one.reach(left));
  });

  it('does not depend on the order of rides or on rides in the future, and repeats itself', () => {
    const rides = twiceAWeek(30);
    const asked = forecastHours(input(20, rides));
    expect(forecastHours(input(20, [...rides].reverse()))).toEqual(asked);
    expect(forecastHours(input(20, [...rides, ride(-3, 50)]))).toEqual(asked);
  });

  it('moves its middle date little with the seed', () => {
    const middles = Array.from(
      { length: 12 },
      (_, i) => daysAhead(input(20, twiceAWeek(60), { seed: `day ${i}` }))[9]!,
    );
    expect(Math.max(...middles) / Math.min(...middles)).toBeLessThan(1.5);
  });

  it('comes in rising order, and never earlier with more hours left or one limit fewer', () => {
    const habits = fc.array(fc.tuple(fc.nat(400), fc.integer({ min: 1, max: 6 })), { maxLength: 60 });
    fc.assert(
      fc.property(habits, fc.integer({ min: 1, max: 60 }), fc.nat(20), (list, hours, more) => {
        const rides = list.map(([ago, h]) => ride(ago, h));
        const near = daysAhead(input(hours, rides, { movingSLeft: hours * 4000 }));
        const far = daysAhead(input(hours + more, rides, { movingSLeft: hours * 4000 }));
        const free = daysAhead(input(hours + more, rides));
        for (let i = 0; i < near.length; i++) {
          if (i > 0) expect(near[i]).toBeGreaterThanOrEqual(near[i - 1]!);
          expect(far[i]).toBeGreaterThanOrEqual(near[i]!);
          expect(free[i]).toBeGreaterThanOrEqual(far[i]!);
        }
      }),
      { numRuns: 40 },
    );
  });
});

describe('chance that the hours are reached', () => {
  const forecast = forecastHours(input(20, twiceAWeek(60)));

  it('is what the likely days say', () => {
    expect(chanceReachedBy(forecast, TODAY, forecast.likely.p50!)).toBeGreaterThanOrEqual(0.5);
    expect(
      chanceReachedBy(forecast, TODAY, inDays(dayNumber(forecast.likely.p10!) - dayNumber(TODAY) - 1)),
    ).toBeLessThan(0.1);
    expect(chanceReachedBy(forecast, TODAY, TODAY)).toBe(0);
  });

  it('rises with the day and ends at the last quantile', () => {
    let before = 0;
    for (let ahead = 0; ahead < 400; ahead += 3) {
      const chance = chanceReachedBy(forecast, TODAY, inDays(ahead));
      expect(chance).toBeGreaterThanOrEqual(before);
      before = chance;
    }
    expect(chanceReachedBy(forecast, TODAY, inDays(5000))).toBeCloseTo(0.95, 9);
  });

  it('is certain today for hours already reached, and nothing where nothing is foretold', () => {
    expect(chanceReachedBy(forecastHours(input(0, [])), TODAY, TODAY)).toBeCloseTo(0.95, 9);
    expect(chanceReachedBy(forecastHours(input(null, [])), TODAY, inDays(100))).toBe(0);
  });
});

describe('coming up', () => {
  const near = (more: Partial<Nearness>): Nearness => ({
    today: TODAY,
    noticeDays: 14,
    likely: { p10: inDays(10), p50: inDays(40), p90: inDays(90) },
    threeInTen: inDays(25),
    filesBy: TODAY,
    hoursLeft: 20,
    intervalHours: 50,
    weeksOfRides: 60,
    ...more,
  });
  const likelyIn = (days: number) => ({ likely: { p10: inDays(1), p50: inDays(days), p90: null } });

  it('by the middle date, to the day', () => {
    expect(isComingUp(near({}))).toBe(false);
    expect(isComingUp(near(likelyIn(15)))).toBe(false);
    expect(isComingUp(near(likelyIn(14)))).toBe(true);
    expect(isComingUp(near({ ...likelyIn(7), noticeDays: 7 }))).toBe(true);
  });

  it('by one long ride: a tenth of the interval, at most five hours', () => {
    expect(isComingUp(near({ hoursLeft: 5 }))).toBe(true);
    expect(isComingUp(near({ hoursLeft: 5.01 }))).toBe(false);
    expect(isComingUp(near({ hoursLeft: 5, intervalHours: 200 }))).toBe(true);
    expect(isComingUp(near({ hoursLeft: 3, intervalHours: 20 }))).toBe(false);
  });

  it('for a newcomer by a fifth of the interval, at most eight hours', () => {
    expect(isComingUp(near({ hoursLeft: 8, weeksOfRides: 5 }))).toBe(true);
    expect(isComingUp(near({ hoursLeft: 8, weeksOfRides: 6 }))).toBe(false);
    expect(isComingUp(near({ hoursLeft: 4, intervalHours: 20, weeksOfRides: 0 }))).toBe(true);
    expect(isComingUp(near({ hoursLeft: 4.01, intervalHours: 20, weeksOfRides: 0 }))).toBe(false);
  });

  it('where three in ten would pass it before the next files tell, to the day', () => {
    expect(isComingUp(near({ filesBy: inDays(24) }))).toBe(false);
    expect(isComingUp(near({ filesBy: inDays(25) }))).toBe(true);
    expect(isComingUp(near({ filesBy: inDays(25), threeInTen: null }))).toBe(false);
    expect(isComingUp(near({ filesBy: null, threeInTen: TODAY }))).toBe(false);
  });

  it('not where nothing is known', () => {
    const likely = { p10: null, p50: null, p90: null };
    expect(isComingUp(near({ likely, threeInTen: null, hoursLeft: null, intervalHours: null }))).toBe(false);
  });
});
