import type { Day, Instant } from '../../../units.js';
import { DAY_MS } from '../../../units.js';
import { dayOf, daysBetween } from '../../days/calendar.js';
import { daysKnown, type HandingOver, showsHowLate } from '../../forecast/knownUpTo.js';

/** Rides that stopped arriving: since the day of the last one. */
export interface Silence {
  readonly since: Day;
  readonly days: number;
}

/** *Defaults*. */
const USUAL_GAP_DAYS = 7;
const SILENT_DAYS = 21;
/** Whose way to hand over does not show yet may do so once a month. */
const SILENT_DAYS_OF_NEWCOMER = 42;
/** A habit shows in at least four gaps, and the last twenty say what is usual now. */
const FEWEST_GAPS = 4;
const GAPS_LOOKED_AT = 20;

function medianOf(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = Math.floor(sorted.length / 2);
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}

/**
 * Returns the silence of a rider whose rides came every week or oftener and have not for 21 days, else null. Both are
 * silent for so long: rides, up to the day to which files are known, and files. So nobody is asked while files are on
 * their way, nor on the day when old ones come; and who handed over but once is given twice as long.
 * Shape: starts of all the rider's rides and the latest files, in any order.
 */
export function silenceOf(
  rideStarts: readonly Instant[],
  files: readonly HandingOver[],
  now: Instant,
  zone: string,
): Silence | null {
  const past = rideStarts.filter((start) => start <= now).sort((a, b) => a - b);
  const last = past.at(-1);
  if (last === undefined) return null;
  const today = dayOf(now, zone);
  const since = dayOf(last, zone);
  const came = files.map((file) => file.came).filter((on) => on <= today);
  const silent = [
    daysBetween(since, daysKnown(files, today).upTo),
    ...came.map((on) => daysBetween(on, today)),
  ];
  const isNewcomer = came.length > 0 && !showsHowLate(files, today);
  const most = isNewcomer ? SILENT_DAYS_OF_NEWCOMER : SILENT_DAYS;
  const recent = past.slice(-GAPS_LOOKED_AT - 1);
  const gaps = recent.slice(1).map((start, i) => (start - recent[i]!) / DAY_MS);
  if (Math.min(...silent) < most || gaps.length < FEWEST_GAPS) return null;
  return medianOf(gaps) <= USUAL_GAP_DAYS ? { since, days: daysBetween(since, today) } : null;
}
