import { msOf, secondsIn } from '../../../units.js';
import { type Plane, straightM } from './ellipsoid.js';
import type { KeptSamples } from './steps.js';

/** Windows before and after a step. Jitter averages out in the long one; the short one sees tight turns. Units: s. */
const SHORT_S = 5;
const LONG_S = 15;
/** Sparse samples need longer windows: so many samples in each, but never longer than this. */
const SHORT_SAMPLES = 2.5;
const LONG_SAMPLES = 4;
const LONGEST_WINDOW_S = 30;

/** Returns the speed at a step; asked for step by step, each costs the same. Units: m/s; NaN where positions are missing. */
export type ShiftSpeed = (step: number) => number;

export interface ShiftSpeeds {
  readonly shortMps: ShiftSpeed;
  readonly longMps: ShiftSpeed;
}

/**
 * Returns the speed between the mean position before a step and the mean position after it, over a short and a long
 * window. With jitter of 3 m about one place the long one stays under 0.5 m/s and the short one under 1.5 m/s.
 */
export function shiftSpeeds(kept: KeptSamples, plane: Plane): ShiftSpeeds {
  const sums = prefixSums(kept, plane);
  return {
    shortMps: shiftOver(kept, sums, SHORT_S, SHORT_SAMPLES),
    longMps: shiftOver(kept, sums, LONG_S, LONG_SAMPLES),
  };
}

interface ShiftSums {
  readonly count: Int32Array;
  readonly timeS: Float64Array;
  readonly eastM: Float64Array;
  readonly northM: Float64Array;
}

function prefixSums({ count, timeMs }: KeptSamples, { eastM, northM }: Plane): ShiftSums {
  const column = () => new Float64Array(count + 1);
  const sums = { count: new Int32Array(count + 1), timeS: column(), eastM: column(), northM: column() };
  const base = count > 0 ? timeMs[0]! : 0;
  for (let i = 0; i < count; i++) {
    const known = Number.isNaN(eastM[i]!) ? 0 : 1;
    sums.count[i + 1] = sums.count[i]! + known;
    sums.timeS[i + 1] = sums.timeS[i]! + (known === 1 ? secondsIn(timeMs[i]! - base) : 0);
    sums.eastM[i + 1] = sums.eastM[i]! + (known === 1 ? eastM[i]! : 0);
    sums.northM[i + 1] = sums.northM[i]! + (known === 1 ? northM[i]! : 0);
  }
  return sums;
}

function shiftOver(
  { count, timeMs, begins }: KeptSamples,
  sums: ShiftSums,
  windowS: number,
  samples: number,
): ShiftSpeed {
  let spanFrom = 0;
  let spanTo = 0;
  let from = 0;
  let to = 0;
  const enter = (step: number): void => {
    for (spanFrom = step; spanFrom > 0 && begins[spanFrom] === 0; ) spanFrom -= 1;
    for (spanTo = step + 1; spanTo < count && begins[spanTo] === 0; ) spanTo += 1;
    from = spanFrom;
    to = step + 1;
  };
  return (step) => {
    if (begins[step] === 1) return Number.NaN;
    if (step < spanFrom || step >= spanTo) enter(step);
    const stepMs = timeMs[step]! - timeMs[step - 1]!;
    const windowMs = Math.min(msOf(LONGEST_WINDOW_S), Math.max(msOf(windowS), samples * stepMs));
    const middle = timeMs[step - 1]! + stepMs / 2;
    // Steps and windows may move either way.
    from = Math.min(from, step - 1);
    while (from > spanFrom && timeMs[from - 1]! >= middle - windowMs) from -= 1;
    while (from < step - 1 && timeMs[from]! < middle - windowMs) from += 1;
    to = Math.max(to, step + 1);
    while (to > step + 1 && timeMs[to - 1]! > middle + windowMs) to -= 1;
    while (to < spanTo && timeMs[to]! <= middle + windowMs) to += 1;
    return speedBetween(sums, from, step, to);
  };
}

/** From the mean of samples [from, middle) to the mean of [middle, to). */
function speedBetween(sums: ShiftSums, from: number, middle: number, to: number): number {
  const before = sums.count[middle]! - sums.count[from]!;
  const after = sums.count[to]! - sums.count[middle]!;
  if (before === 0 || after === 0) return Number.NaN;
  const { timeS, eastM, northM } = sums;
  const s = (timeS[to]! - timeS[middle]!) / after - (timeS[middle]! - timeS[from]!) / before;
  const east = (eastM[to]! - eastM[middle]!) / after - (eastM[middle]! - eastM[from]!) / before;
  const north = (northM[to]! - northM[middle]!) / after - (northM[middle]! - northM[from]!) / before;
  return straightM(east, north) / s;
}
