import { DAY_MS, type Instant } from '../../units.js';

/** A machine that was off for longer, or whose clock was set, cannot be told apart. */
const MOST_AHEAD_MS = 30 * DAY_MS;
const MOST_BEHIND_MS = DAY_MS;
/** So long a doubted clock must have run, with files that agree with it. */
const PROOF_MS = DAY_MS;
const PROOF_FILES = 2;

/** What is known of the machine's clock from when it was last believed. */
export interface ClockWord {
  /** What it said then. */
  readonly lastAt: Instant;
  /** Since it was doubted, by itself; null where it is believed. */
  readonly doubt: {
    readonly since: Instant;
    /** What it said last. */
    readonly seenAt: Instant;
    /** How long it ran on from there without another jump. Units: milliseconds. */
    readonly ranMs: number;
  } | null;
}

/** Files that came while it was doubted, by their own times. */
export interface FilesSince {
  readonly agreeing: number;
  readonly contradicting: number;
}

export type ClockDoubt = 'ahead' | 'behind';

/** Returns whether a clock jumped since it was last believed; null where it did not, or nothing is known of it. */
export function doubtOf(word: ClockWord | null, now: Instant): ClockDoubt | null {
  if (word === null) return null;
  if (now - word.lastAt > MOST_AHEAD_MS) return 'ahead';
  return word.lastAt - now > MOST_BEHIND_MS ? 'behind' : null;
}

/**
 * Returns what is known of the clock once it said `now`, having run for `ranMs` since it was asked last. A doubted one
 * is believed again when it is back where it was. So it is when it ran for a day and files that came meanwhile agree
 * with it.
 */
export function nextWord(
  word: ClockWord | null,
  now: Instant,
  { ranMs, files }: { readonly ranMs: number; readonly files: FilesSince },
): ClockWord {
  if (word === null || doubtOf(word, now) === null) return { lastAt: now, doubt: null };
  const { doubt } = word;
  // Another jump begins the proof anew.
  const isSteady = doubt !== null && doubtOf({ lastAt: doubt.seenAt, doubt: null }, now) === null;
  if (!isSteady) return { lastAt: word.lastAt, doubt: { since: now, seenAt: now, ranMs: 0 } };
  const ran = doubt.ranMs + ranMs;
  const isProven = ran >= PROOF_MS && files.agreeing >= PROOF_FILES && files.agreeing > files.contradicting;
  if (isProven) return { lastAt: now, doubt: null };
  return { lastAt: word.lastAt, doubt: { since: doubt.since, seenAt: now, ranMs: ran } };
}
