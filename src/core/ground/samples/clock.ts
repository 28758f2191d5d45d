import { DAY_MS, type Instant } from '../../../units.js';

/** 2001-01-01: no recorder wrote these formats before, and clocks that were never set stand at 1970, 1980, 1989, 1999 or 2000. */
export const CLOCK_SET_MS = Date.UTC(2001, 0, 1);
/** Local time written as UTC is up to 14 hours ahead, so a whole day is left before the future begins. */
const AHEAD_MS = DAY_MS;

/** The times of a clock that was set. Units: milliseconds since 1970. */
export interface ClockBounds {
  readonly earliestMs: number;
  readonly latestMs: number;
}

/** Returns between which times a clock that was set may stand now. */
export const clockBounds = (now: Instant): ClockBounds => ({
  earliestMs: CLOCK_SET_MS,
  latestMs: now + AHEAD_MS,
});

export type ClockQuestion = 'clock-unset' | 'clock-future' | 'no-times';

/** Returns what is to be asked about the time of a recording's first sample; NaN is none. */
export function clockQuestion(firstMs: number, untimed: boolean, now: Instant): ClockQuestion | null {
  const { earliestMs, latestMs } = clockBounds(now);
  if (firstMs < earliestMs) return 'clock-unset';
  if (firstMs > latestMs) return 'clock-future';
  return untimed ? 'no-times' : null;
}
