import { type Instant, MINUTE_MS } from '../../units.js';

const WINDOW_MS = 15 * MINUTE_MS;
/** Kept small enough that a flood of invented names cannot fill the memory. */
const MOST_KEYS = 10_000;

/** Wrong tries allowed in a window: for one name from one place, from one place, for one name from anywhere. */
const MOST = { nameAndPlace: 8, place: 40, name: 100 } as const;

export interface SignInLimit {
  /** Counts a try; returns false when there were too many. */
  take(name: string, place: string, now: Instant): boolean;
  /** Forgets the tries for a name that signed in, from its place; what else that place tried stays counted. */
  forgive(name: string, place: string): void;
}

/** Returns a limit on guessing, kept in memory: a restart forgets it. */
export function signInLimit(): SignInLimit {
  const tries = new Map<string, number[]>();
  const keysOf = (name: string, place: string): [string, number][] => [
    [`both ${place} ${name}`, MOST.nameAndPlace],
    [`place ${place}`, MOST.place],
    [`name ${name}`, MOST.name],
  ];
  // A clock that was set back must not lock anybody out for longer than a window.
  const recent = (key: string, now: Instant): number[] =>
    (tries.get(key) ?? []).filter((at) => Math.abs(now - at) < WINDOW_MS);
  return {
    take: (name, place, now) => {
      if (tries.size > MOST_KEYS) {
        for (const key of tries.keys()) if (recent(key, now).length === 0) tries.delete(key);
        if (tries.size > MOST_KEYS) return false;
      }
      const keys = keysOf(name, place);
      if (keys.some(([key, most]) => recent(key, now).length >= most)) return false;
      for (const [key] of keys) tries.set(key, [...recent(key, now), now]);
      return true;
    },
    forgive: (name, place) => {
      tries.delete(keysOf(name, place)[0]![0]);
    },
  };
}
