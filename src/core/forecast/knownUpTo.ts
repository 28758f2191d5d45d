import type { Day } from '../../units.js';
import { addDays, daysBetween } from '../days/calendar.js';

/** A ride's day, and the day on which its file first came. */
export interface HandedOver {
  readonly ridden: Day;
  readonly came: Day;
}

/** How many of the latest files are looked at. */
export const FILES_LOOKED_AT = 40;
/** So many rides, ridden while handing over, show how late somebody does. *Default*: until then once a week. */
const FEWEST_RIDES = 5;
const USUAL_DAYS_LATE = 7;
const SHARE_IN_TIME = 0.9;

/** Returns after how many days nine of ten rides have come; those from before the first of these files say nothing. */
function daysLate(files: readonly HandedOver[], firstCame: Day): number {
  const late = files
    .filter(({ ridden }) => ridden >= firstCame)
    .map(({ ridden, came }) => Math.max(0, daysBetween(ridden, came)))
    .sort((a, b) => a - b);
  return late.length < FEWEST_RIDES ? USUAL_DAYS_LATE : late[Math.ceil(SHARE_IN_TIME * late.length) - 1]!;
}

/**
 * Returns the day to which all rides are taken to be known: that on which files last came, or as many days ago as this
 * rider hands over late, whichever is later. What lies after it is unknown, not rest. Where no file ever came there is
 * nothing to wait for.
 */
export function knownUpTo(files: readonly HandedOver[], today: Day): Day {
  const there = files.filter(({ came }) => came <= today);
  if (there.length === 0) return today;
  const came = there.map((one) => one.came).sort();
  const last = [...there.map((one) => one.ridden), came.at(-1)!, addDays(today, -daysLate(there, came[0]!))]
    .sort()
    .at(-1)!;
  return last < today ? last : today;
}
