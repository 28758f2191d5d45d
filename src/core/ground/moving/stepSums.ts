/** What the steps of a survey add up to. */
import { type Seconds, seconds, secondsIn } from '../../../units.js';
import { straightM } from '../samples/ellipsoid.js';
import type { MovingInterval, Reading } from '../samples/reading.js';
import { GAP, HALT, MOVING, MOVING_MPS } from './moving.js';
import { type Aboard, DRIVEN, LIFTED, RIDDEN, type Survey } from './survey.js';

/**
 * Returns the moving stretches of whose steps these are.
 * Shape: milliseconds since the first sample, half open, sorted, apart from one another.
 */
export function movingIntervals(
  { kept, states, untimed }: Survey,
  aboard: Uint8Array,
  whose: Aboard,
): MovingInterval[] {
  if (untimed) return [];
  const { timeMs } = kept;
  const intervals: [number, number][] = [];
  for (let i = 1; i < kept.count; i++) {
    if (states[i] !== MOVING || aboard[i] !== whose) continue;
    const from = timeMs[i - 1]! - timeMs[0]!;
    const to = timeMs[i]! - timeMs[0]!;
    const last = intervals.at(-1);
    if (last && last[1] === from) last[1] = to;
    else intervals.push([from, to]);
  }
  return intervals;
}

/**
 * Returns the metres of the rider's steps, halts and gaps too, as the recorder's own distance has them. Of a halt whose
 * positions jump about faster than moving begins, only the way from its first to its last counts.
 * Units: metres.
 */
export function riddenMetres(survey: Survey, aboard: Uint8Array): number {
  const { kept, states, distances } = survey;
  let metres = 0;
  let halt = 0;
  for (let i = 1; i <= kept.count; i++) {
    if (i < kept.count && states[i] === HALT && aboard[i] === RIDDEN) {
      halt += 1;
      continue;
    }
    if (halt > 0) metres += haltMetres(survey, i - halt, i);
    halt = 0;
    if (i === kept.count || aboard[i] !== RIDDEN) continue;
    const step = distances.stepM[i]!;
    if (!Number.isNaN(step)) metres += step;
  }
  return metres;
}

function haltMetres({ kept, plane, distances }: Survey, from: number, to: number): number {
  let way = 0;
  for (let i = from; i < to; i++) if (!Number.isNaN(distances.stepM[i]!)) way += distances.stepM[i]!;
  if (distances.source !== 'positions') return way;
  const s = secondsIn(kept.timeMs[to - 1]! - kept.timeMs[from - 1]!);
  if (!(way > MOVING_MPS * s)) return way;
  const east = plane.eastM[to - 1]! - plane.eastM[from - 1]!;
  const north = plane.northM[to - 1]! - plane.northM[from - 1]!;
  return Math.min(way, straightM(east, north) || 0);
}

/** Returns the seconds left out of the moving time: moving ones on a lift or perhaps in a vehicle, and gaps. */
export function leftOut({ kept, states }: Survey, aboard: Uint8Array): Reading['leftOut'] {
  let [liftMs, vehicleMs, gapMs] = [0, 0, 0];
  for (let i = 1; i < kept.count; i++) {
    const ms = kept.timeMs[i]! - kept.timeMs[i - 1]!;
    if (states[i] === GAP) gapMs += ms;
    else if (states[i] === MOVING && aboard[i] === LIFTED) liftMs += ms;
    else if (states[i] === MOVING && aboard[i] === DRIVEN) vehicleMs += ms;
  }
  const all = [
    { code: 'lift', s: seconds(secondsIn(liftMs)) },
    { code: 'vehicle', s: seconds(secondsIn(vehicleMs)) },
    { code: 'gap', s: seconds(secondsIn(gapMs)) },
  ] as const;
  return all.filter(({ s }) => s > 0);
}

export const secondsOfIntervals = (intervals: readonly MovingInterval[]): Seconds =>
  seconds(secondsIn(intervals.reduce((sum, [from, to]) => sum + to - from, 0)));
