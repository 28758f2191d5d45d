import type { Day } from '../../units.js';
import { addDays, daysBetween } from '../days/calendar.js';

/** A ride's day, and the day on which its file first came. */
export interface HandingOver {
  readonly ridden: Day;
  readonly came: Day;
}

/** How many of the latest files are looked at: several hand-overs, also of who rides daily and hands over monthly. */
export const FILES_LOOKED_AT = 120;
/** So many rides, ridden while handing over, show how late somebody does. *Default*: until then once a week. */
const FEWEST_RIDES = 5;
const USUAL_DAYS_LATE = 7;
const SHARE_IN_TIME = 0.9;

/** By how many days rides came late, in rising order; those from before the first of these files came say nothing. */
function daysLateOf(there: readonly HandingOver[]): number[] {
  const firstCame = there.map(({ came }) => came).sort()[0];
  return there
    .filter(({ ridden }) => firstCame !== undefined && ridden >= firstCame)
    .map(({ ridden, came }) => Math.max(0, daysBetween(ridden, came)))
    .sort((a, b) => a - b);
}

const cameBy = (files: readonly HandingOver[], today: Day): readonly HandingOver[] =>
  files.filter(({ came }) => came <= today);

/** Returns whether enough rides came since the first files to tell how late this rider hands over. */
export const showsHowLate = (files: readonly HandingOver[], today: Day): boolean =>
  daysLateOf(cameBy(files, today)).length >= FEWEST_RIDES;

/** Returns after how many days nine of ten rides have come. */
function usualDaysLate(there: readonly HandingOver[]): number {
  const late = daysLateOf(there);
  return late.length < FEWEST_RIDES ? USUAL_DAYS_LATE : late[Math.ceil(SHARE_IN_TIME * late.length) - 1]!;
}

/** Returns after how many days nine of ten rides have come; null where too few came to tell. */
export function howLate(files: readonly HandingOver[], today: Day): number | null {
  const there = cameBy(files, today);
  return showsHowLate(there, today) ? usualDaysLate(there) : null;
}

/** What is known of a rider's days. */
export interface DaysKnown {
  /** All rides up to and with this day are taken to be known. What lies after it is unknown, not rest. */
  readonly upTo: Day;
  /** By this day files are expected to tell of the days after it; today at the earliest. */
  readonly filesBy: Day;
}

/**
 * Returns to which day all rides are taken to be known: that on which files last came, or as many days ago as this rider
 * hands over late, whichever is later. Where no file ever came there is nothing to wait for.
 */
export function daysKnown(files: readonly HandingOver[], today: Day): DaysKnown {
  const there = cameBy(files, today);
  if (there.length === 0) return { upTo: today, filesBy: today };
  const late = usualDaysLate(there);
  const last = [...there.flatMap((one) => [one.ridden, one.came]), addDays(today, -late)].sort().at(-1)!;
  const upTo = last < today ? last : today;
  const next = addDays(upTo, late);
  return { upTo, filesBy: next > today ? next : today };
}

/** *Defaults*: nothing came for so long. Whose way to hand over does not show yet may do so once a month. */
const LAPSED_DAYS = 21;
const LAPSED_DAYS_OF_NEWCOMER = 42;

/**
 * Returns the last day of a hand-over of files that lapsed: nothing came for 21 days, or twice as long as this rider is
 * late. Null while files come, and where none ever came.
 */
export function lapsedOn(files: readonly HandingOver[], today: Day): Day | null {
  const there = cameBy(files, today);
  const last = there
    .flatMap((one) => [one.ridden, one.came])
    .sort()
    .at(-1);
  if (last === undefined) return null;
  const shows = showsHowLate(files, today);
  const most = shows ? Math.max(LAPSED_DAYS, 2 * usualDaysLate(there)) : LAPSED_DAYS_OF_NEWCOMER;
  return daysBetween(last, today) > most ? last : null;
}
