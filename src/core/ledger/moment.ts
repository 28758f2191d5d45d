import { Temporal } from 'temporal-polyfill';
import { type Day, type Instant, instant, isoTime, type Moment, SECOND_MS } from '../../units.js';
import { dayOf, startOfDay } from '../days/calendar.js';
import { parseDay } from '../days/dayNumber.js';
import { tellable } from '../days/plainTime.js';

/** A time with neither zone nor distance from UTC. */
const LOCAL_TIME = /^\d{4}-\d\d-\d\d[T ]\d\d:\d\d(:\d\d(\.\d+)?)?$/;

/**
 * Returns the moment meant by a day of the zone (its start) or an ISO 8601 time, which is the zone's where it names none;
 * null where it is neither. An hour that the clocks show twice is the first, one that they leave out is the one after it.
 */
export function momentOf(text: string, zone: string): Instant | null {
  const day = parseDay(text);
  if (day !== null) return startOfDay(day, zone);
  try {
    const isLocal = LOCAL_TIME.test(text);
    const at = isLocal
      ? Temporal.PlainDateTime.from(text).toZonedDateTime(zone).epochMilliseconds
      : Temporal.Instant.from(text).epochMilliseconds;
    return tellable(at);
  } catch {
    return null;
  }
}

const lastOf = (day: Day, zone: string): Instant =>
  instant(Temporal.PlainDate.from(day).add({ days: 1 }).toZonedDateTime(zone).epochMilliseconds - 1);

/**
 * Returns the moment after the day's last ride: the day's last thousandth of a second, so that it is of that day and no
 * ride of it starts later.
 */
export const afterLastRideOf = (day: Day, zone: string): Moment => isoTime(lastOf(day, zone));

/** Returns the day after whose last ride a moment is, or null where it is any other moment. */
export function eveningOf(at: Instant, zone: string): Day | null {
  // Without a look into the zone for all but a few.
  if (at % SECOND_MS !== SECOND_MS - 1) return null;
  const day = dayOf(at, zone);
  return lastOf(day, zone) === at ? day : null;
}
