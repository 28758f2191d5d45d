import type { Day } from '../../units.js';
import { dayNumber, dayOfNumber } from '../days/dayNumber.js';
import type { Likely } from '../ledger/comingUp.js';
import { firstPassages } from './firstPassage.js';
import { type RideHours, rideWeeks } from './rideWeeks.js';
import { ridingLaw } from './ridingLaw.js';

export type { RideHours } from './rideWeeks.js';

/** Nothing further off than this is foretold. */
const HORIZON_WEEKS = 260;
const PATHS = 300;
/** Two years: last year's season and the weeks around it. */
const WEEKS_LOOKED_BACK = 104;
const QUANTILES = 19;

/** What a forecast is made from. Units: seconds and thousandths of a second still to ride before a limit is reached. */
export interface ForecastInput {
  readonly today: Day;
  /** Past rides of the bike or unit, or of the rider where the bike is new, in any order. */
  readonly rides: readonly RideHours[];
  /** Null where terrain hours set no limit. */
  readonly terrainMsLeft: number | null;
  /** Null where there is no ceiling in moving hours. */
  readonly movingSLeft: number | null;
  /** Unit, service kind, service period and day: the same input gives the same forecast. */
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
 * Returns the days by which the hours left will have been ridden, foreseen from this rider's own irregular riding and,
 * where little of it is known, from other riders'. Today is over: the first day foreseen is tomorrow, and hours already
 * reached give today.
 */
export const forecastHours = (input: ForecastInput): HoursForecast => {
  const { terrainMsLeft, movingSLeft } = input;
  const now = dayNumber(input.today);
  const weeksOfRides = weeksSinceFirstRide(input.rides, input.today);
  if (terrainMsLeft === null && movingSLeft === null) {
    return forecastOf(Array<null>(QUANTILES).fill(null), weeksOfRides);
  }
  if ((terrainMsLeft ?? 1) <= 0 || (movingSLeft ?? 1) <= 0) {
    return forecastOf(Array<Day>(QUANTILES).fill(input.today), weeksOfRides);
  }
  const law = ridingLaw(rideWeeks(input.rides, input.today, WEEKS_LOOKED_BACK), input.seed);
  const days = firstPassages(law, { movingS: movingSLeft, terrainMs: terrainMsLeft }, PATHS, HORIZON_WEEKS);
  const quantileDays = Array.from({ length: QUANTILES }, (_, i) => {
    const ahead = quantile(days, (i + 1) / (QUANTILES + 1));
    return Number.isFinite(ahead) ? dayOfNumber(now + ahead) : null;
  });
  return forecastOf(quantileDays, weeksOfRides);
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
