import type { Clock } from './ports/clock.js';
import { type Instant, instant } from './units.js';

/** Returns the machine's clock, or one that starts at a given moment and runs on. */
export function clockFrom(start: Instant | null): Clock {
  const offset = start === null ? 0 : start - Date.now();
  return { now: () => instant(Date.now() + offset), isSet: start !== null };
}

/** Returns a clock that stands still, for a single command. */
export const clockAt = (at: Instant): Clock => ({ now: () => at, isSet: true });
