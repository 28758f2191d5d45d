import { type Instant, MINUTE_MS } from '../../units.js';

const WINDOW_MS = 15 * MINUTE_MS;
/** Kept small enough that a flood of invented links cannot fill the memory. */
const MOST_KEYS = 10_000;

/** Counts what is done under a name, once or so much; returns false when it was too much in a quarter of an hour. */
export type LinkLimit = (name: string, most: number, now: Instant, much?: number) => boolean;

/** Returns a limit that is kept in memory: a restart forgets it. */
export function linkLimit(): LinkLimit {
  const counts = new Map<string, { since: Instant; count: number }>();
  // A clock that was set back must not lock anybody out for longer than a window.
  const isOver = (since: Instant, now: Instant): boolean => Math.abs(now - since) >= WINDOW_MS;
  return (name, most, now, much = 1) => {
    if (counts.size >= MOST_KEYS && !counts.has(name)) {
      for (const [key, { since }] of counts) if (isOver(since, now)) counts.delete(key);
      if (counts.size >= MOST_KEYS) return false;
    }
    const known = counts.get(name);
    const window = known && !isOver(known.since, now) ? known : { since: now, count: 0 };
    window.count += much;
    counts.set(name, window);
    return window.count <= most;
  };
}
