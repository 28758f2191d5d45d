/** Elevation made fit for use, and how much of it was climbed. */
import { secondsIn } from '../../../units.js';
import { nthSmallest } from '../../chance/quantile.js';
import { APART, findOutliers, MOVED } from './outliers.js';
import type { KeptSamples } from './steps.js';

/** Faster changes than falling are errors of the receiver; so much is within its error, however short the step. */
const FALLING_MPS = 15;
const ELEVATION_ERROR_M = 20;

/**
 * Returns the elevations to rely on: spikes are NaN; what came before a jump for good (a late first
 * fix, a calibration under way) is shifted to join what follows.
 * Units: metres.
 */
export function usableElevation({ count, timeMs, eleM, begins }: KeptSamples): {
  readonly eleM: Float64Array;
  readonly dropped: number;
} {
  const usable = new Float64Array(count);
  for (let i = 0; i < count; i++) usable[i] = eleM[i]! + 0;
  if (isSmooth(usable, timeMs, begins)) return { eleM: usable, dropped: 0 };
  const verdicts = findOutliers(begins, usable, (a, b) => {
    return !isFall(usable[b]! - usable[a]!, timeMs[b]! - timeMs[a]!);
  });
  let dropped = 0;
  let shift = 0;
  let jumped = false;
  let next = Number.NaN;
  for (let i = count - 1; i >= 0; i--) {
    if (!Number.isNaN(eleM[i]!) && (Number.isNaN(usable[i]!) || verdicts[i] === APART)) dropped += 1;
    if (verdicts[i] === APART) usable[i] = Number.NaN;
    if (Number.isNaN(usable[i]!)) continue;
    if (jumped) shift = next - usable[i]!;
    usable[i] = usable[i]! + shift;
    next = usable[i]!;
    jumped = verdicts[i] === MOVED;
  }
  return { eleM: usable, dropped };
}

/** Faster than anything falls, or rises; without times no change is. */
const isFall = (metres: number, ms: number): boolean =>
  Math.abs(metres) > ELEVATION_ERROR_M + secondsIn(FALLING_MPS * ms);

/** Whether no elevation lies apart from the one before, as in nearly every file. */
function isSmooth(eleM: Float64Array, timeMs: Float64Array, begins: Uint8Array): boolean {
  let last = -1;
  for (let i = 0; i < eleM.length; i++) {
    if (begins[i] === 1) last = -1;
    if (Number.isNaN(eleM[i]!)) continue;
    if (last >= 0 && isFall(eleM[i]! - eleM[last]!, timeMs[i]! - timeMs[last]!)) return false;
    last = i;
  }
  return true;
}

/** Climbed and descended metres. */
export interface Climbed {
  readonly ascentM: number;
  readonly descentM: number;
}

/**
 * Smaller changes are noise. Units: metres.
 * Source: 2 m for altimeters is common among recorders (from memory); 5 m is the rule of an activity recorder's help
 * page, which adds that there is no standard.
 */
const ALTIMETER_THRESHOLD_M = 2;
const RECEIVER_THRESHOLD_M = 5;
/** Second differences over about 4 s: an altimeter's are mostly within its steps of 0.2 m, a receiver's are not. */
const BEND_MS = 4000;
const ALTIMETER_BEND_M = 0.5;

/** Returns the threshold below which changes of this elevation are noise, by how much it trembles. Units: metres. */
export function climbThreshold(timeMs: Float64Array, eleM: Float64Array): number {
  const bends = new Float64Array(eleM.length);
  let count = 0;
  let before = Number.NaN;
  let last = Number.NaN;
  let lastMs = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < eleM.length; i++) {
    if (Number.isNaN(eleM[i]!) || !(timeMs[i]! - lastMs >= BEND_MS)) continue;
    const bend = Math.abs(eleM[i]! - 2 * last + before);
    if (!Number.isNaN(bend)) bends[count++] = bend;
    before = last;
    last = eleM[i]!;
    lastMs = timeMs[i]!;
  }
  const median = count === 0 ? Number.NaN : nthSmallest(bends.subarray(0, count), Math.floor(count / 2));
  return median <= ALTIMETER_BEND_M ? ALTIMETER_THRESHOLD_M : RECEIVER_THRESHOLD_M;
}

/**
 * Returns what was climbed by the rule of the last accepted reference: an elevation that differs from the reference by
 * the threshold or more is added whole and becomes the reference; smaller differences are ignored.
 * Not monotone in the threshold, and a rule by turning points gives other sums. NaN is skipped.
 * Units: metres.
 */
export function climbOf(zM: ArrayLike<number>, thresholdM: number): Climbed {
  let ascentM = 0;
  let descentM = 0;
  let reference = Number.NaN;
  for (let i = 0; i < zM.length; i++) {
    const z = zM[i]!;
    if (Number.isNaN(z)) continue;
    const change = z - reference;
    if (Number.isNaN(reference)) reference = z;
    else if (Math.abs(change) >= thresholdM) {
      if (change > 0) ascentM += change;
      else descentM -= change;
      reference = z;
    }
  }
  return { ascentM, descentM };
}

/** Flatter than this over more way than this, no ground is: the recorder wrote a constant. Units: metres. */
const FLAT_M = 0.1;
const FLAT_WAY_M = 1500;

/** Returns whether the elevation only stands for one that was not measured. Units: metres. */
export function isFlat(eleM: Float64Array, stepM: Float64Array): boolean {
  let lowest = Number.POSITIVE_INFINITY;
  let highest = Number.NEGATIVE_INFINITY;
  let way = 0;
  for (let i = 0; i < eleM.length; i++) {
    if (Number.isNaN(eleM[i]!)) continue;
    if (eleM[i]! < lowest) lowest = eleM[i]!;
    if (eleM[i]! > highest) highest = eleM[i]!;
    if (!Number.isNaN(stepM[i]!)) way += stepM[i]!;
  }
  return way >= FLAT_WAY_M && highest - lowest < FLAT_M;
}

/** At most so many heights are kept to be shown. */
const MOST_HEIGHTS = 240;

/** Returns heights by even steps of time, each the last one known in its step. Units: seconds, metres. */
export function heightsOf(
  timeMs: Float64Array,
  eleM: Float64Array,
): { readonly everyS: number; readonly eleM: readonly (number | null)[] } {
  const wholeS = secondsIn(timeMs.at(-1)! - timeMs[0]!);
  const everyS = Math.max(1, Math.ceil(wholeS / (MOST_HEIGHTS - 1)));
  const heights = new Array<number | null>(Math.floor(wholeS / everyS) + 1).fill(null);
  for (let i = 0; i < timeMs.length; i++)
    if (!Number.isNaN(eleM[i]!))
      heights[Math.floor(secondsIn(timeMs[i]! - timeMs[0]!) / everyS)] = Math.round(eleM[i]!);
  return { everyS, eleM: heights };
}
