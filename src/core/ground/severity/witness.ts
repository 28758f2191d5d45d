import { straightM } from '../samples/ellipsoid.js';
import { isMissing } from '../samples/missing.js';
import type { MovingPath } from './movingPath.js';

/** What speed and turning say of the ground without any elevation. `weight` is 1, ½ or 0 for two, one or no witness. */
export interface Witnesses {
  readonly weight: number;
  /** Mean logarithm of the witnesses over their values on a typical trail; 0 without any. */
  readonly lean: number;
  readonly acceleration: number | null;
  readonly turning: number | null;
}

const WINDOW_S = 5;
/** Changes over longer times grow with about this power of the time; longer ones say nothing. */
const LONGEST_WINDOW_S = 3 * WINDOW_S;
const CHANGE_GROWTH = 0.43;
const TYPICAL_ACCELERATION = 0.25;
const CHORD_M = 20;
/** Chords up to this see every bend that the usual recorder sees; longer ones miss about the root of it. Units: metres. */
const USUAL_CHORD_M = 25;
const TYPICAL_TURNING = 1.3;
export const METRES_PER_DEGREE = 111_195;
/** Fewer than these say nothing of a ride. */
const LEAST_WINDOWS = 60;
const LEAST_CHORDS = 30;

const log = (value: number, typical: number): number =>
  Math.log(Math.min(4, Math.max(0.25, value / typical)));

/** Returns what the witnesses of a ride say. Source: the field's reasoning that rough ground makes speed uneven and ways crooked; constants measured on labelled rides. */
export function witnessesOf(paths: readonly MovingPath[]): Witnesses {
  const acceleration = unevenSpeed(paths);
  const turning = turningPer100M(paths);
  const said = [
    ...(acceleration === null ? [] : [log(acceleration, TYPICAL_ACCELERATION)]),
    ...(turning === null ? [] : [log(turning, TYPICAL_TURNING)]),
  ];
  const lean = said.length === 0 ? 0 : said.reduce((sum, value) => sum + value, 0) / said.length;
  return { weight: said.length / 2, lean, acceleration, turning };
}

/**
 * Root mean square of the relative change between speeds 5 s apart: the device's, else those over the way. Of speeds
 * further apart it is what 5 s would have shown.
 */
function unevenSpeed(paths: readonly MovingPath[]): number | null {
  const isTold = paths.some(({ speedMps }) => !isMissing(speedMps));
  let sum = 0;
  let count = 0;
  for (const { tS, xM, speedMps } of paths) {
    let before = Number.NaN;
    let from = 0;
    for (let i = 1; i < tS.length; i += 1) {
      const dt = tS[i]! - tS[from]!;
      if (dt < WINDOW_S) continue;
      const v = isTold ? speedMps[i]! : (xM[i]! - xM[from]!) / dt;
      if (dt > LONGEST_WINDOW_S || Number.isNaN(v)) before = Number.NaN;
      else {
        const change = (v - before) / Math.max(1, (v + before) / 2);
        if (!Number.isNaN(change)) {
          sum += (change / (dt / WINDOW_S) ** CHANGE_GROWTH) ** 2;
          count += 1;
        }
        before = v;
      }
      from = i;
    }
  }
  return count < LEAST_WINDOWS ? null : Math.sqrt(sum / count);
}

/** Mean change of heading between chords of about 20 m, or what those would have shown. Units: radians per 100 m. */
function turningPer100M(paths: readonly MovingPath[]): number | null {
  let turned = 0;
  let lengthM = 0;
  let chords = 0;
  for (const { lat, lon } of paths) {
    let from = -1;
    let heading = Number.NaN;
    for (let i = 0; i < lat.length; i += 1) {
      if (Number.isNaN(lat[i]!) || Number.isNaN(lon[i]!)) continue;
      if (from < 0) {
        from = i;
        continue;
      }
      const north = (lat[i]! - lat[from]!) * METRES_PER_DEGREE;
      const east = (lon[i]! - lon[from]!) * METRES_PER_DEGREE * Math.cos((lat[i]! * Math.PI) / 180);
      const chord = straightM(east, north);
      if (chord < CHORD_M) continue;
      const next = Math.atan2(east, north);
      if (!Number.isNaN(heading)) {
        const change = Math.abs(next - heading);
        turned += Math.min(change, 2 * Math.PI - change) * Math.sqrt(Math.max(1, chord / USUAL_CHORD_M));
        lengthM += chord;
        chords += 1;
      }
      heading = next;
      from = i;
    }
  }
  return chords < LEAST_CHORDS ? null : (turned / lengthM) * 100;
}
