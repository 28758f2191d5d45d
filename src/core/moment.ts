import { Temporal } from 'temporal-polyfill';
import { type Instant, instant } from '../units.js';
import { parseDay, startOfDay } from './calendar.js';
import type { Moment } from './facts.js';

/** Years of four digits, with a day to spare for the zones. */
const EARLIEST = Date.UTC(1000, 0, 2);
const LATEST = Date.UTC(9999, 11, 30);

/** Returns the moment meant by a day of the zone (its start) or an ISO 8601 time, or null where it is neither. */
export function momentOf(text: Moment, zone: string): Instant | null {
  const day = parseDay(text);
  if (day !== null) return startOfDay(day, zone);
  try {
    const at = Temporal.Instant.from(text).epochMilliseconds;
    return at >= EARLIEST && at <= LATEST ? instant(at) : null;
  } catch {
    return null;
  }
}
