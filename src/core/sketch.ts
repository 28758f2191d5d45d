/**
 * A sketch recognises the same way ridden in the same direction. It holds how far from the start one is along the way,
 * and which way round, but no position, no bearing and no turn: the way cannot be drawn from it.
 * Shape: length in metres; distances from the start at 48 equal parts of the way, in thousandths of the length; the
 * areas swept around the start in each quarter of the way, counter-clockwise positive, in ten-thousandths of the length squared.
 */
import type { Plane } from './ellipsoid.js';

const PARTS = 48;
const QUARTERS = 4;
/** Points closer to the last one than this are left out, so that jitter and sampling make no way. Units: metres. */
const THIN_M = 30;
/** Fewer points than this have no shape. */
const FEWEST_POINTS = 8;

/** Returns the sketch of the positions in their order, or null where there are too few or they stay in one place. */
export function sketchOf({ eastM, northM }: Plane): number[] | null {
  const points = thinned(eastM, northM);
  const count = points.length;
  if (count < FEWEST_POINTS) return null;
  const way = new Float64Array(count);
  for (let k = 1; k < count; k++) {
    const a = points[k - 1]!;
    const b = points[k]!;
    way[k] = way[k - 1]! + Math.hypot(eastM[b]! - eastM[a]!, northM[b]! - northM[a]!);
  }
  const length = way[count - 1]!;
  const start = points[0]!;
  let k = 1;
  const at = (metres: number) => {
    while (k < count - 1 && way[k]! < metres) k += 1;
    const part = (metres - way[k - 1]!) / (way[k]! - way[k - 1]!);
    const a = points[k - 1]!;
    const b = points[k]!;
    return {
      east: eastM[a]! + part * (eastM[b]! - eastM[a]!) - eastM[start]!,
      north: northM[a]! + part * (northM[b]! - northM[a]!) - northM[start]!,
    };
  };
  const distances: number[] = [];
  const areas = new Array<number>(QUARTERS).fill(0);
  const fine = 4 * PARTS;
  let last = { east: 0, north: 0 };
  for (let part = 1; part <= fine; part++) {
    const here = at((part * length) / fine);
    areas[Math.ceil((part * QUARTERS) / fine) - 1]! += (last.east * here.north - last.north * here.east) / 2;
    if (part % 4 === 0) distances.push(Math.round((1000 * Math.hypot(here.east, here.north)) / length));
    last = here;
  }
  return [
    Math.round(length),
    ...distances,
    ...areas.map((area) => Math.round((10_000 * area) / length ** 2)),
  ];
}

function thinned(eastM: Float64Array, northM: Float64Array): number[] {
  const points: number[] = [];
  for (let i = 0; i < eastM.length; i++) {
    if (Number.isNaN(eastM[i]!)) continue;
    const last = points.at(-1);
    if (last === undefined || Math.hypot(eastM[i]! - eastM[last]!, northM[i]! - northM[last]!) >= THIN_M)
      points.push(i);
  }
  return points;
}

/** How far two sketches of one way may differ: in length; in distance from the start on the mean and at most; in area. */
const LENGTH_SHARE = 0.04;
const MEAN_DISTANCE = 8;
const MOST_DISTANCE = 30;
const MOST_AREA = 25;
/** On short ways the receiver's error weighs more. Units: metres. */
const POSITION_ERROR_M = 20;

/** Returns whether two sketches are of the same way in the same direction. */
export function sameTrack(a: readonly number[], b: readonly number[]): boolean {
  if (a.length !== b.length || a.length !== 1 + PARTS + QUARTERS) return false;
  const length = Math.max(a[0]!, b[0]!);
  const error = (1000 * POSITION_ERROR_M) / length;
  if (Math.abs(a[0]! - b[0]!) > LENGTH_SHARE * length + POSITION_ERROR_M) return false;
  let sum = 0;
  for (let k = 1; k <= PARTS; k++) {
    const difference = Math.abs(a[k]! - b[k]!);
    if (difference > MOST_DISTANCE + 2 * error) return false;
    sum += difference;
  }
  if (sum / PARTS > MEAN_DISTANCE + error) return false;
  for (let k = PARTS + 1; k < a.length; k++)
    if (Math.abs(a[k]! - b[k]!) > MOST_AREA + 2 * error) return false;
  return true;
}
