/** Whether two recordings of one rider or one bike are the same ride. */
import { HOUR_MS, MINUTE_MS } from '../../units.js';
import { sameTrack } from '../ground/sketch.js';

/** What of a recording decides it. Units: milliseconds since 1970, seconds. */
export interface Outing {
  readonly startMs: number;
  readonly endMs: number;
  readonly movingS: number;
  readonly sketch: readonly number[] | null;
}

/** `same`: one ride; `unclear` and `shifted`: a person must say; `apart`: two rides. */
export type Relation = 'same' | 'unclear' | 'shifted' | 'apart';

/** Overlap up to this much is skew between two clocks. */
export const CLOCK_SKEW_MS = MINUTE_MS;
/** Zones differ from one another by multiples of this, and by no more than the largest shift. */
const ZONE_STEP_MS = 15 * MINUTE_MS;
export const LARGEST_SHIFT_MS = 14 * HOUR_MS;

/** Returns how two recordings relate: at least half the shorter in common is one ride. */
export function relationOf(a: Outing, b: Outing): Relation {
  const overlap = Math.min(a.endMs, b.endMs) - Math.max(a.startMs, b.startMs);
  const shorter = Math.min(a.endMs - a.startMs, b.endMs - b.startMs);
  if (overlap > 0 && overlap >= shorter / 2) return 'same';
  if (overlap > CLOCK_SKEW_MS) return 'unclear';
  return isShifted(a, b) ? 'shifted' : 'apart';
}

/** Two recordings of one outing from beginning to end. */
const TWIN_SHARE = 0.9;

/** Returns whether two recordings cover the same time nearly whole. */
export function isTwin(a: Outing, b: Outing): boolean {
  const overlap = Math.min(a.endMs, b.endMs) - Math.max(a.startMs, b.startMs);
  return overlap > 0 && overlap >= TWIN_SHARE * Math.max(a.endMs - a.startMs, b.endMs - b.startMs);
}

function isShifted(a: Outing, b: Outing): boolean {
  const shift = Math.abs(a.startMs - b.startMs);
  if (shift < ZONE_STEP_MS / 2 || shift > LARGEST_SHIFT_MS + CLOCK_SKEW_MS) return false;
  const offStep = shift % ZONE_STEP_MS;
  if (Math.min(offStep, ZONE_STEP_MS - offStep) > CLOCK_SKEW_MS) return false;
  if (Math.abs(a.movingS - b.movingS) > 0.01 * Math.max(a.movingS, b.movingS)) return false;
  return a.sketch !== null && b.sketch !== null && sameTrack(a.sketch, b.sketch);
}
