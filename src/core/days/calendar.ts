/** Days, months and clock times in a workshop's zone. */
import { Temporal } from 'temporal-polyfill';
import { DAY_MS, type Day, type Instant, instant } from '../../units.js';
import { WEEKDAYS, type Weekday } from '../tokens.js';
import { dayNumber, dayOfNumber } from './dayNumber.js';

/** Returns whether the name is a time zone of the IANA data. */
export function isTimeZone(zone: string): boolean {
  try {
    Temporal.Instant.fromEpochMilliseconds(0).toZonedDateTimeISO(zone);
    return true;
  } catch {
    return false;
  }
}

/** Zone lookups cost some 30 µs and a ledger asks for the same few thousand days again and again. */
const starts = new Map<string, Map<Day, Instant>>();
const MOST_DAYS_KEPT = 20_000;

/** Returns the day's first moment in the zone: 00:00, or 01:00 where the clock jumps over midnight. */
export function startOfDay(day: Day, zone: string): Instant {
  let ofZone = starts.get(zone);
  if (!ofZone || ofZone.size > MOST_DAYS_KEPT) {
    ofZone = new Map();
    starts.set(zone, ofZone);
  }
  let start = ofZone.get(day);
  if (start === undefined) {
    start = instant(Temporal.PlainDate.from(day).toZonedDateTime(zone).epochMilliseconds);
    ofZone.set(day, start);
  }
  return start;
}

/** Days are written with four digits a year; somebody who means "for ever" writes the last of them. */
const LAST_DAY = dayNumber('9999-12-31' as Day);

/**
 * Returns the day of the zone that a moment falls on: the last one whose start is not later, so that days never run
 * backwards even where a clock is set back over midnight.
 */
export function dayOf(at: Instant, zone: string): Day {
  // A zone is at most 14 hours ahead of UTC, so the day there is at most one after that of UTC.
  let number = Math.min(Math.floor(at / DAY_MS) + 1, LAST_DAY);
  while (startOfDay(dayOfNumber(number), zone) > at) number--;
  return dayOfNumber(number);
}

/**
 * Returns the moment of a full hour on a day: the later clock time where the clock jumps over it, the first of the two
 * where it comes twice.
 */
export const atHour = (day: Day, hour: number, zone: string): Instant =>
  instant(
    Temporal.PlainDate.from(day).toZonedDateTime({ timeZone: zone, plainTime: { hour } }).epochMilliseconds,
  );

export const addDays = (day: Day, count: number): Day => dayOfNumber(dayNumber(day) + count);

/** Returns the same day of a later month, or that month's last day where it is missing: 29 Feb + 12 = 28 Feb. */
export const addMonths = (day: Day, months: number): Day =>
  Temporal.PlainDate.from(day).add({ months }, { overflow: 'constrain' }).toString() as Day;

/** Returns how many days later the second day is; negative when it is earlier. */
export const daysBetween = (from: Day, to: Day): number => dayNumber(to) - dayNumber(from);

export const weekdayOf = (day: Day): Weekday => WEEKDAYS[(((dayNumber(day) + 3) % 7) + 7) % 7]!;

export const earlierDay = (a: Day | null, b: Day | null): Day | null =>
  a === null ? b : b === null || a <= b ? a : b;

/** No workshop is closed for longer at a stretch. */
const LONGEST_CLOSURE_DAYS = 400;

/** Returns the next open days from a day on, that day included; fewer than asked for where none follow in 400 days. */
export function nextOpenDays(
  from: Day,
  count: number,
  openDays: readonly Weekday[],
  closedDays: readonly Day[],
): Day[] {
  const found: Day[] = [];
  let sinceLast = 0;
  for (let day = from; found.length < count && sinceLast < LONGEST_CLOSURE_DAYS; day = addDays(day, 1)) {
    const isOpen = openDays.includes(weekdayOf(day)) && !closedDays.includes(day);
    sinceLast = isOpen ? 0 : sinceLast + 1;
    if (isOpen) found.push(day);
  }
  return found;
}
