import type { Day } from '../../units.js';
import { dayNumber, dayOfNumber } from '../days/dayNumber.js';
import type { Likely } from '../ledger/comingUp.js';
import type { Hemisphere } from './hemisphere.js';
import { type RideHours, rideWeeks } from './rideWeeks.js';
import { HABITS } from './ridingHabits.js';
import { ridingLaw } from './ridingLaw.js';
import { drawPaths, type HoursLeft } from './ridingPaths.js';

export type { RideHours } from './rideWeeks.js';

/** Nothing further off than this is foretold. */
const HORIZON_WEEKS = 260;
const PATHS = 160;
/** The season is seen at most three times. */
export const WEEKS_LOOKED_BACK = 156;
const QUANTILES = 19;

/** What is known of the riding of a bike. */
export interface KnownRiding {
  readonly today: Day;
  /** The last day of which every ride is taken to be known; today at the latest. */
  readonly knownUpTo: Day;
  /** By when files are expected to tell of the days after it; today where nothing is waited for. */
  readonly filesBy: Day;
  /** Past rides of the bike, in any order. */
  readonly rides: readonly RideHours[];
  readonly hemisphere: Hemisphere;
  /** Bike and day: the same riding gives the same forecast. */
  readonly seed: string;
}

/** When the hours of an interval are reached. Plain data, so that it can be stored. */
export interface HoursForecast {
  readonly likely: Likely;
  /** From the first ride to today. */
  readonly weeksOfRides: number;
  /** The days by which the hours are reached with 5, 10, … 95 % likelihood; null beyond the horizon. */
  readonly quantileDays: readonly (Day | null)[];
}

/** What is foreseen of a bike's riding, to be read off for every limit of every unit on it. */
export interface RidingForecast {
  readonly knownUpTo: Day;
  readonly filesBy: Day;
  /** What is expected to have been ridden after that day, up to and with today. */
  readonly expectedSince: { readonly movingS: number; readonly terrainMs: number };
  /** Returns when the hours are reached. Units: what was left on the last known day. */
  reach(left: HoursLeft): HoursForecast;
}

const quantile = (sorted: Float64Array, share: number): number =>
  sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)]!;

const forecastOf = (quantileDays: readonly (Day | null)[], weeksOfRides: number): HoursForecast => ({
  likely: { p10: quantileDays[1]!, p50: quantileDays[9]!, p90: quantileDays[17]! },
  weeksOfRides,
  quantileDays,
});

const weeksSinceFirstRide = (rides: readonly RideHours[], today: Day): number => {
  let first: Day | null = null;
  for (const { day } of rides) if (first === null || day < first) first = day;
  return first === null ? 0 : Math.max(0, Math.floor((dayNumber(today) + 1 - dayNumber(first)) / 7));
};

/**
 * Returns what is foreseen from this rider's own irregular riding and, where little of it is known, from other riders'.
 * The first day foreseen is the one after the last known. Today is over: hours that may have been reached by now, but
 * are not known to be, give today, and so do hours already reached.
 */
export const forecastRiding = (known: KnownRiding, habits = HABITS, count = PATHS): RidingForecast => {
  const { today, knownUpTo, filesBy, rides, hemisphere, seed } = known;
  const lastDay = dayNumber(knownUpTo);
  const daysSince = dayNumber(today) - lastDay;
  const weeksOfRides = weeksSinceFirstRide(rides, today);
  const weeks = rideWeeks(rides, knownUpTo, WEEKS_LOOKED_BACK);
  const paths = drawPaths(ridingLaw({ weeks, lastDay, hemisphere }, seed, habits), count, HORIZON_WEEKS);
  const dayAhead = (ahead: number): Day | null =>
    Number.isFinite(ahead) ? dayOfNumber(lastDay + Math.max(daysSince, ahead)) : null;
  return {
    knownUpTo,
    filesBy,
    expectedSince: paths.meanOfDays(daysSince),
    reach: (left) => {
      if (left.movingS === null && left.terrainMs === null)
        return forecastOf(Array<null>(QUANTILES).fill(null), weeksOfRides);
      if ((left.terrainMs ?? 1) <= 0 || (left.movingS ?? 1) <= 0)
        return forecastOf(Array<Day>(QUANTILES).fill(today), weeksOfRides);
      const days = paths.firstPassages(left);
      const quantiles = Array.from({ length: QUANTILES }, (_, i) =>
        dayAhead(quantile(days, (i + 1) / (QUANTILES + 1))),
      );
      return forecastOf(quantiles, weeksOfRides);
    },
  };
};

/**
 * Returns the likelihood that the hours are reached by the day, read off the forecast's quantiles: straight between
 * them, and from nothing today up to the first.
 */
export const chanceReachedBy = (forecast: HoursForecast, today: Day, by: Day): number => {
  const target = dayNumber(by);
  let earlier = dayNumber(today);
  let chance = 0;
  for (const [i, quantileDay] of forecast.quantileDays.entries()) {
    if (quantileDay === null) return chance;
    const later = dayNumber(quantileDay);
    const step = 1 / (QUANTILES + 1);
    if (later > target) return chance + (step * Math.max(0, target - earlier)) / (later - earlier);
    chance = (i + 1) * step;
    earlier = later;
  }
  return chance;
};
