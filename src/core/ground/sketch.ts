/**
 * A sketch recognises the same way ridden in the same direction. It holds how far from the start one is along the way,
 * and which way round, but no position, no bearing and no turn: the way cannot be drawn from it.
 * Shape: length of the way and greatest distance from the start, in metres; distances from the start at 48 equal parts
 * of the way, in thousandths of the greatest. Areas swept around the start in each quarter of the way,
 * counter-clockwise positive, in thousandths of the greatest distance squared.
 */
import { type Plane, straightM } from './samples/ellipsoid.js';

const PARTS = 48;
const QUARTERS = 4;
/** Positions within this of one another are one point, their mean, so that jitter, halts and sampling make no way. */
const POINT_M = 25;
/** Fewer points, or all of them nearer to the start, have no shape to go by. */
const FEWEST_POINTS = 8;
const SMALLEST_M = 150;

interface Point {
  readonly east: number;
  readonly north: number;
}

/** Returns the sketch of the positions in their order, or null where they have no shape to go by. */
export function sketchOf(plane: Plane): number[] | null {
  const points = pointsOf(plane);
  if (points.length < FEWEST_POINTS) return null;
  const { length, at } = wayAlong(points);
  const distances: number[] = [];
  const areas = new Array<number>(QUARTERS).fill(0);
  const fine = 4 * PARTS;
  let last: Point = { east: 0, north: 0 };
  for (let part = 1; part <= fine; part++) {
    const here = at((part * length) / fine);
    areas[Math.ceil((part * QUARTERS) / fine) - 1]! += (last.east * here.north - last.north * here.east) / 2;
    if (part % 4 === 0) distances.push(straightM(here.east, here.north));
    last = here;
  }
  const greatest = Math.max(...distances);
  if (greatest < SMALLEST_M) return null;
  return [
    Math.round(length),
    Math.round(greatest),
    ...distances.map((distance) => Math.round((1000 * distance) / greatest)),
    ...areas.map((area) => Math.round((1000 * area) / greatest ** 2)),
  ];
}

function pointsOf({ eastM, northM }: Plane): Point[] {
  const points: Point[] = [];
  let count = 0;
  let east = 0;
  let north = 0;
  let first = -1;
  const close = () => {
    if (count > 0) points.push({ east: east / count, north: north / count });
    count = 0;
    east = 0;
    north = 0;
  };
  for (let i = 0; i < eastM.length; i++) {
    if (Number.isNaN(eastM[i]!)) continue;
    if (count > 0 && straightM(eastM[i]! - eastM[first]!, northM[i]! - northM[first]!) >= POINT_M) close();
    if (count === 0) first = i;
    count += 1;
    east += eastM[i]!;
    north += northM[i]!;
  }
  close();
  return points;
}

/** The way through the points, and where one is after so many metres of it, from the first point; asked in rising order. */
function wayAlong(points: readonly Point[]): {
  readonly length: number;
  readonly at: (metres: number) => Point;
} {
  const way = new Float64Array(points.length);
  for (let k = 1; k < points.length; k++) {
    const [a, b] = [points[k - 1]!, points[k]!];
    way[k] = way[k - 1]! + straightM(b.east - a.east, b.north - a.north);
  }
  const start = points[0]!;
  let k = 1;
  const at = (metres: number): Point => {
    while (k < points.length - 1 && way[k]! < metres) k += 1;
    const [a, b] = [points[k - 1]!, points[k]!];
    const width = way[k]! - way[k - 1]!;
    const share = width > 0 ? (metres - way[k - 1]!) / width : 0;
    return {
      east: a.east + share * (b.east - a.east) - start.east,
      north: a.north + share * (b.north - a.north) - start.north,
    };
  };
  return { length: way[points.length - 1]!, at };
}

/**
 * How far two sketches of one way may differ. Recordings sampled anew, with 5 m of noise or a pause, stay at half of
 * this; different rides of like length are beyond twice the mean distance.
 */
const LENGTH_SHARE = 0.06;
const GREATEST_SHARE = 0.04;
const MEAN_DISTANCE = 18;
const MOST_DISTANCE = 65;
const MOST_AREA = 35;
/** On short ways the receiver's error weighs more. Units: metres. */
const POSITION_ERROR_M = 5;

/** Returns whether two sketches are of the same way in the same direction; there and back on one road has only one. */
export function sameTrack(a: readonly number[], b: readonly number[]): boolean {
  if (a.length !== b.length || a.length !== 2 + PARTS + QUARTERS) return false;
  const apart = (k: number) => Math.abs(a[k]! - b[k]!);
  const error = (1000 * POSITION_ERROR_M) / Math.max(a[1]!, b[1]!);
  if (apart(0) > LENGTH_SHARE * Math.max(a[0]!, b[0]!)) return false;
  if (apart(1) > GREATEST_SHARE * Math.max(a[1]!, b[1]!) + POSITION_ERROR_M) return false;
  let sum = 0;
  for (let k = 2; k < 2 + PARTS; k++) {
    if (apart(k) > MOST_DISTANCE + 3 * error) return false;
    sum += apart(k);
  }
  if (sum / PARTS > MEAN_DISTANCE + error) return false;
  for (let k = 2 + PARTS; k < a.length; k++) if (apart(k) > MOST_AREA + 3 * error) return false;
  return true;
}
