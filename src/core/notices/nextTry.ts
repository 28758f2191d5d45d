import { DAY_MS, type Instant, instant, MINUTE_MS } from '../../units.js';

/** Units: minutes between tries, days until it is given up. */
export interface RetryPlan {
  readonly firstMin: number;
  readonly thenMin: number;
  readonly giveUpDays: number;
}

const PLAN: RetryPlan = { firstMin: 30, thenMin: 150, giveUpDays: 5 };

/**
 * Returns when a mail that was tried so many times is tried next, or null once it is to be given up.
 * Source: RFC 5321 4.5.4.1: two tries in the first hour, then every two or three hours, for 4 to 5 days.
 */
export const nextTry = (firstTried: Instant, tries: number, plan: RetryPlan = PLAN): Instant | null => {
  const waited = tries < 1 ? 0 : plan.firstMin + (tries - 1) * plan.thenMin;
  return waited * MINUTE_MS > plan.giveUpDays * DAY_MS ? null : instant(firstTried + waited * MINUTE_MS);
};
