import { type Instant, instant, MINUTE_MS } from '../../units.js';

const WINDOW_MS = 15 * MINUTE_MS;
/** What comes within one such stretch is kept as one, as of its last. */
const STRETCH_MS = MINUTE_MS;
/** A flood of invented keys must not fill the memory. */
const MOST_KEYS = 10_000;

/** Counts what was done under a key in the last quarter of an hour; kept in memory, so that a start forgets it. */
export interface Tally {
  count(key: string, now: Instant): number;
  add(key: string, now: Instant, much?: number): void;
  clear(key: string): void;
}

interface TallyStretch {
  at: Instant;
  much: number;
}

/** Returns a tally of at most so many keys, which forgets what nothing was added to for longest. */
export function tally(most = MOST_KEYS): Tally {
  const kept = new Map<string, TallyStretch[]>();
  // A clock that was set back must not count anything for longer than a window.
  const recent = (key: string, now: Instant): TallyStretch[] =>
    (kept.get(key) ?? []).filter(({ at }) => Math.abs(now - at) < WINDOW_MS);
  return {
    count: (key, now) => recent(key, now).reduce((sum, { much }) => sum + much, 0),
    add: (key, now, much = 1) => {
      const stretches = recent(key, now);
      const last = stretches.at(-1);
      if (last && Math.floor(last.at / STRETCH_MS) === Math.floor(now / STRETCH_MS)) {
        last.at = instant(Math.max(last.at, now));
        last.much += much;
      } else stretches.push({ at: now, much });
      // Set anew, it is the last to be forgotten.
      kept.delete(key);
      kept.set(key, stretches);
      if (kept.size > most) kept.delete(kept.keys().next().value!);
    },
    clear: (key) => void kept.delete(key),
  };
}
