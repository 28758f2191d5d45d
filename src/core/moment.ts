import { Temporal } from 'temporal-polyfill';
import { type Instant, instant } from '../units.js';
import { parseDay, startOfDay } from './calendar.js';
import type { Moment } from './facts.js';

/** Returns the moment meant by a day of the zone (its start) or an ISO 8601 time, or null where it is neither. */
export function momentOf(text: Moment, zone: string): Instant | null {
  const day = parseDay(text);
  if (day !== null) return startOfDay(day, zone);
  try {
    return instant(Temporal.Instant.from(text).epochMilliseconds);
  } catch {
    return null;
  }
}
