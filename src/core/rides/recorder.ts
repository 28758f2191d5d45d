/** Whose a recorder is, by the rides of which people said whose they were. */
import { type Instant, instant } from '../../units.js';

/** What was said of one rider with a recorder: when the first and the last of those rides began, and when the first to end did. */
export interface RecorderUse {
  readonly riderId: string;
  readonly first: Instant;
  readonly firstEnd: Instant;
  readonly last: Instant;
}

/** Whose files a recorder writes, and from when on that is asked; null: never. */
export interface RecorderWord {
  readonly riderId: string;
  readonly until: Instant | null;
}

/**
 * Returns whose files a recorder writes after two rides of one rider; null before. From the first ride of a second rider
 * on it says nothing more: older rides stay, later ones are asked about.
 */
export function wordOfRecorder(uses: readonly RecorderUse[]): RecorderWord | null {
  const [own, other] = [...uses].sort((a, b) => a.first - b.first || (a.riderId < b.riderId ? -1 : 1));
  if (own === undefined || own.last < own.firstEnd) return null;
  return { riderId: own.riderId, until: other?.first ?? null };
}

/** Returns whose a recording of that time is; null where its recorder does not say. */
export function riderOfRecorder(uses: readonly RecorderUse[], at: Instant): string | null {
  const word = wordOfRecorder(uses);
  return word !== null && (word.until === null || at < word.until) ? word.riderId : null;
}

/** Returns the uses of a recorder that single rides make. */
export function usesOf(
  rides: readonly { readonly riderId: string; readonly start: Instant; readonly end: Instant }[],
): RecorderUse[] {
  const uses = new Map<string, RecorderUse>();
  for (const { riderId, start, end } of rides) {
    const { first, firstEnd, last } = uses.get(riderId) ?? { first: start, firstEnd: end, last: start };
    uses.set(riderId, {
      riderId,
      first: instant(Math.min(first, start)),
      firstEnd: instant(Math.min(firstEnd, end)),
      last: instant(Math.max(last, start)),
    });
  }
  return [...uses.values()];
}
