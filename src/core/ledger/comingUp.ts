import type { Day } from '../../units.js';
import { dayNumber } from '../days/dayNumber.js';

/** The days by which the interval is reached with 10, 50 and 90 % likelihood; null where nothing can be foretold. */
export interface Likely {
  readonly p10: Day | null;
  readonly p50: Day | null;
  readonly p90: Day | null;
}

/** What the notice rule needs to know of a standing. Units: hours of the limit that comes first. */
export interface Nearness {
  readonly today: Day;
  readonly noticeDays: number;
  readonly likely: Likely;
  /** The day by which three in ten would have used up the hours. */
  readonly threeInTen: Day | null;
  /** By when files are expected to tell of days that are not known yet; today where nothing is waited for. */
  readonly filesBy: Day | null;
  readonly hoursLeft: number | null;
  readonly intervalHours: number | null;
  readonly weeksOfRides: number;
}

/** Under so many weeks of rides a forecast is mostly other riders', so hours left decide as well. */
const WEEKS_TO_KNOW_A_RIDER = 6;
const hoursOfOneLongRide = (intervalHours: number): number => Math.min(5, intervalHours / 10);
const hoursForNewcomer = (intervalHours: number): number => Math.min(8, intervalHours / 5);

/**
 * Returns whether a service is near enough that rider and workshop should hear of it. Its middle date falls within the
 * notice days; or three in ten would pass it before the next files tell; or one long ride could use up what is left.
 * Source: `npm run evidence`, reminder timing: the later clauses cut the units that pass their interval unannounced.
 */
export const isComingUp = (at: Nearness): boolean => {
  const { p50 } = at.likely;
  if (p50 !== null && dayNumber(p50) <= dayNumber(at.today) + at.noticeDays) return true;
  if (at.threeInTen !== null && at.filesBy !== null && at.threeInTen <= at.filesBy) return true;
  if (at.hoursLeft === null || at.intervalHours === null) return false;
  const isNewcomer = at.weeksOfRides < WEEKS_TO_KNOW_A_RIDER;
  const near = isNewcomer ? hoursForNewcomer : hoursOfOneLongRide;
  return at.hoursLeft <= near(at.intervalHours);
};
