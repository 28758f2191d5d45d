/** Counting in days on which the workshop is open. */
import type { Day } from '../../units.js';
import { addDays, weekdayOf } from '../days/calendar.js';
import { dayNumber } from '../days/dayNumber.js';
import type { Weekday } from '../tokens.js';

export interface OpenDays {
  readonly openDays: readonly Weekday[];
  readonly closedDays: readonly Day[];
}

/** No workshop is closed for longer at a stretch. */
const LONGEST_CLOSURE_DAYS = 400;

export const isOpen = ({ openDays, closedDays }: OpenDays, day: Day): boolean =>
  openDays.includes(weekdayOf(day)) && !closedDays.includes(day);

/** Returns the open days of a stretch, both ends included. */
export function openDaysIn(open: OpenDays, from: Day, to: Day): Day[] {
  const found: Day[] = [];
  for (let day = from; day <= to; day = addDays(day, 1)) if (isOpen(open, day)) found.push(day);
  return found;
}

/** Returns the last open day that is not later, or null where none comes before for 400 days. */
export function lastOpenDay(open: OpenDays, notAfter: Day): Day | null {
  for (let back = 0; back < LONGEST_CLOSURE_DAYS; back++) {
    const day = addDays(notAfter, -back);
    if (isOpen(open, day)) return day;
  }
  return null;
}

/** Returns the first open day that is not earlier; the day itself where none comes for 400 days. */
export function nextOpenDay(open: OpenDays, notBefore: Day): Day {
  for (let on = 0; on < LONGEST_CLOSURE_DAYS; on++) {
    const day = addDays(notBefore, on);
    if (isOpen(open, day)) return day;
  }
  return notBefore;
}

/** Returns the day that is so many open days before another, or null where there are not so many; 0 is that day. */
export function openDaysBefore(open: OpenDays, before: Day, count: number): Day | null {
  let day: Day | null = before;
  for (let i = 0; i < count && day !== null; i++) day = lastOpenDay(open, addDays(day, -1));
  return day;
}

/** Returns the Monday of the day's week. */
export const mondayOf = (day: Day): Day => addDays(day, -((((dayNumber(day) + 3) % 7) + 7) % 7));
