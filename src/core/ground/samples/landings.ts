/** What a recorder with an accelerometer felt: the landings after jumps. */
import type { RecorderWords } from './recording.js';

/** Units: seconds. `hangS` is the time in the air of all, `longestS` of the longest; null where no time was written. */
export interface Landings {
  readonly count: number;
  readonly hangS: number;
  readonly longestS: number | null;
}

/** Standard gravity. Units: m/s². Source: ISO 80000-3. */
const GRAVITY = 9.80665;

/** Longer in the air is a fault of the recorder: it would be a fall of eleven metres. Units: seconds. */
const LONGEST_HANG_S = 3;

/**
 * Returns how fast a landing meets level ground after so long in the air: half the time is spent falling. On a slope
 * it is softer, so this is an upper bound. Units: m/s from seconds.
 */
export const landingSpeed = (hangS: number): number => (GRAVITY * hangS) / 2;

/** Returns the landings between two moments; null where the recorder does not record them. Units: milliseconds. */
export function landingsOf(
  words: Pick<RecorderWords, 'jumpCount' | 'jumps'> | undefined,
  fromMs: number,
  toMs: number,
): Landings | null {
  if (words === undefined || (words.jumpCount === null && words.jumps.length === 0)) return null;
  const within = words.jumps.filter(({ atMs }) => atMs >= fromMs && atMs <= toMs);
  const hangs = within.flatMap(({ hangS }) => (hangS !== null && isHang(hangS) ? [hangS] : []));
  // Some recorders only count.
  const counted = words.jumps.length === 0 ? words.jumpCount! : within.length;
  return landings(counted, hangs);
}

const isHang = (s: number): boolean => s > 0 && s <= LONGEST_HANG_S;

/** To the hundredth, so that sums do not depend on order. */
function landings(count: number, hangs: readonly number[]): Landings {
  const hundredths = hangs.reduce((sum, s) => sum + Math.round(100 * s), 0);
  const longestS = hangs.length === 0 ? null : Math.max(...hangs.map((s) => Math.round(100 * s) / 100));
  return { count, hangS: hundredths / 100, longestS };
}

/** Returns the landings of stretches that do not overlap; null where none of them recorded any. */
export function landingsTogether(all: readonly (Landings | null | undefined)[]): Landings | null {
  const known = all.filter((one) => one !== null && one !== undefined);
  if (known.length === 0) return null;
  const longest = known.flatMap(({ longestS }) => (longestS === null ? [] : [longestS]));
  return {
    count: known.reduce((sum, { count }) => sum + count, 0),
    hangS: known.reduce((sum, { hangS }) => sum + Math.round(100 * hangS), 0) / 100,
    longestS: longest.length === 0 ? null : Math.max(...longest),
  };
}
