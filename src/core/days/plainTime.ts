import { type Instant, instant, MINUTE_MS, minutesOfHours, msOf } from '../../units.js';
import { parseDay } from './dayNumber.js';

/** Day, clock time, and `Z` or the distance from UTC. */
const PLAIN =
  /^(\d{4}-\d\d-\d\d)[T ]([01]\d|2[0-3]):([0-5]\d)(?::([0-5]\d)(?:\.(\d{1,9}))?)?(?:[Zz]|([+-])([01]\d|2[0-3])(?::?([0-5]\d))?)$/;

/** Years of four digits, with a day to spare for the zones. */
const EARLIEST = Date.UTC(1000, 0, 2);
const LATEST = Date.UTC(9999, 11, 30);

/** Returns the moment, or null where its year has not four digits. */
export const tellable = (ms: number): Instant | null => (ms >= EARLIEST && ms <= LATEST ? instant(ms) : null);

/**
 * Returns the moment of a time that names its distance from UTC; null where it is none. It asks no zone, so that what
 * is typed can be read before zones are loaded.
 * Source: ISO 8601, RFC 3339.
 */
export function plainTime(text: string): Instant | null {
  const parts = PLAIN.exec(text);
  const day = parseDay(parts?.[1] ?? '');
  if (parts === null || day === null) return null;
  const [, , hour, minute, second = '0', fraction = '', sign, awayHours = '0', awayMinutes = '0'] = parts;
  const away = (minutesOfHours(Number(awayHours)) + Number(awayMinutes)) * (sign === '-' ? -1 : 1);
  const minutes = minutesOfHours(Number(hour)) + Number(minute) - away;
  const ofSecond = Number(fraction.padEnd(3, '0').slice(0, 3));
  return tellable(Date.parse(`${day}T00:00:00Z`) + minutes * MINUTE_MS + msOf(Number(second)) + ofSecond);
}
