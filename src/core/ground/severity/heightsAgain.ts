import { straightM } from '../samples/ellipsoid.js';
import type { HeightsAgain } from '../samples/heightEvidence.js';
import { REFERENCE_M } from './gradientChange.js';
import { GRID_M } from './groundGrid.js';
import type { MovingPath } from './movingPath.js';
import { METRES_PER_DEGREE } from './witness.js';

/** Two passes go the same way where they come so near, over the whole of a third difference. Units: metres. */
const NEAR_M = 15;
const STILL_NEAR_M = 22.5;
/** A place is met again only after so much way. Units: metres. */
const APART_M = 500;
/** Fewer metres say nothing. */
const LEAST_M = 720;
/** Altimeters are smoothed, and so late. Units: seconds. */
const DELAYS_S = [0, 2, 4, 6, 8, 10];
/** A third difference as large as this is a fault of the record. */
const STEEPEST = 0.3;
/** Numbers a cell of places by its row and column. */
const CELLS = 4_000_037;
/** Whoever rides about in one place for hours is not compared with every moment of it. */
const MOST_LOOKED = 30;
const LAG = REFERENCE_M / GRID_M;
const WHOLE = 3 * LAG;

/** Places every 10 m of all paths that have position and height, one path after the other. */
interface Places {
  readonly count: number;
  readonly eastM: Float64Array;
  readonly northM: Float64Array;
  /** Way from the beginning, and the time of its path. */
  readonly atM: Float64Array;
  readonly tS: Float64Array;
  readonly path: Int32Array;
}

/** Third differences that begin at these places see the same ground, turned round where `way` is −1. */
interface Pair {
  readonly one: number;
  readonly other: number;
  readonly way: 1 | -1;
}

/** Returns how well heights agree where the way was ridden again, or null where too little of it was. */
export function heightsAgain(paths: readonly MovingPath[]): HeightsAgain | null {
  const known = paths.map(withPlaceAndHeight).filter(({ xM }) => xM.length > 1);
  const places = placesOf(known);
  const pairs = pairsOf(places);
  if (pairs.length * GRID_M < LEAST_M) return null;
  let best: HeightsAgain | null = null;
  for (const delayS of DELAYS_S) {
    const errorShare = Number(disagreement(pairs, heightsAt(places, known, delayS)).toFixed(3));
    if (best === null || errorShare < best.errorShare)
      best = { wayM: pairs.length * GRID_M, errorShare, delayS };
  }
  return best;
}

function withPlaceAndHeight(path: MovingPath): MovingPath {
  const has = (_: number, i: number): boolean =>
    !(Number.isNaN(path.zM[i]!) || Number.isNaN(path.lat[i]!) || Number.isNaN(path.lon[i]!));
  if (path.zM.every(has)) return path;
  const { xM, zM, tS, lat, lon, speedMps } = path;
  return {
    xM: xM.filter(has),
    tS: tS.filter(has),
    lat: lat.filter(has),
    lon: lon.filter(has),
    speedMps: speedMps.filter(has),
    zM: zM.filter(has),
  };
}

function placesOf(paths: readonly MovingPath[]): Places {
  const lengths = paths.map(({ xM }) => Math.floor((xM.at(-1)! - xM[0]!) / GRID_M) + 1);
  const count = lengths.reduce((sum, length) => sum + length, 0);
  const column = (): Float64Array => new Float64Array(count);
  const places = { count, eastM: column(), northM: column(), atM: column(), tS: column() };
  const path = new Int32Array(count);
  const east = paths.length === 0 ? 0 : METRES_PER_DEGREE * Math.cos((paths[0]!.lat[0]! * Math.PI) / 180);
  let at = 0;
  let beforeM = 0;
  paths.forEach(({ xM, tS, lat, lon }, index) => {
    let next = 1;
    for (let k = 0; k < lengths[index]!; k += 1, at += 1) {
      const x = xM[0]! + k * GRID_M;
      while (next < xM.length - 1 && xM[next]! < x) next += 1;
      const share = shareAt(xM, next, x);
      places.eastM[at] = between(lon, next, share) * east;
      places.northM[at] = between(lat, next, share) * METRES_PER_DEGREE;
      places.atM[at] = beforeM + x;
      places.tS[at] = between(tS, next, share);
      path[at] = index;
    }
    beforeM += xM.at(-1)! + APART_M;
  });
  return { ...places, path };
}

/** How far `value` lies on the way to the node from the one before. */
function shareAt(column: Float64Array, node: number, value: number): number {
  const width = column[node]! - column[node - 1]!;
  return width > 0 ? Math.min(1, Math.max(0, (value - column[node - 1]!) / width)) : 0;
}

const between = (column: Float64Array, node: number, share: number): number =>
  column[node - 1]! + share * (column[node]! - column[node - 1]!);

/** Looks back from each place to the nearest one that was ridden before, and along both ways from there. */
function pairsOf(places: Places): Pair[] {
  const { count, eastM, northM, atM, path } = places;
  const latest = new Map<number, number>();
  const before = new Int32Array(count);
  const cellAt = (east: number, north: number): number => east * CELLS + north;
  const apart = (a: number, b: number): number => straightM(eastM[a]! - eastM[b]!, northM[a]! - northM[b]!);
  const pairs: Pair[] = [];
  for (let i = 0; i < count; i += 1) {
    const east = Math.floor(eastM[i]! / NEAR_M);
    const north = Math.floor(northM[i]! / NEAR_M);
    let nearest = -1;
    let leastM = NEAR_M;
    for (let cell = 0; cell < 9; cell += 1) {
      let j = latest.get(cellAt(east - 1 + (cell % 3), north - 1 + Math.floor(cell / 3))) ?? -1;
      for (let looked = 0; j >= 0 && looked < MOST_LOOKED; looked += 1, j = before[j]!) {
        if (atM[i]! - atM[j]! < APART_M) continue;
        const m = apart(i, j);
        if (m >= leastM) continue;
        leastM = m;
        nearest = j;
      }
    }
    before[i] = latest.get(cellAt(east, north)) ?? -1;
    latest.set(cellAt(east, north), i);
    const first = i - WHOLE;
    if (nearest < 0 || first < 0 || path[first] !== path[i]) continue;
    for (const way of [1, -1] as const) {
      const end = nearest - way * WHOLE;
      const other = Math.min(nearest, end);
      if (end < 0 || end >= count || path[end] !== path[nearest] || other + WHOLE >= first) continue;
      if (apart(first, end) > STILL_NEAR_M) continue;
      if (apart(i - WHOLE / 2, nearest - (way * WHOLE) / 2) > STILL_NEAR_M) continue;
      pairs.push({ one: first, other, way });
      break;
    }
  }
  return pairs;
}

/** Heights at the places, as they were written so much later. */
function heightsAt({ count, tS, path }: Places, paths: readonly MovingPath[], delayS: number): Float64Array {
  const heights = new Float64Array(count);
  let next = 1;
  for (let i = 0; i < count; i += 1) {
    if (i > 0 && path[i] !== path[i - 1]) next = 1;
    const { tS: times, zM } = paths[path[i]!]!;
    const t = tS[i]! + delayS;
    while (next < times.length - 1 && times[next]! < t) next += 1;
    heights[i] = between(zM, next, shareAt(times, next, t));
  }
  return heights;
}

/** Returns the share of the squared third differences that two passes do not have in common. */
function disagreement(pairs: readonly Pair[], zM: Float64Array): number {
  const third = (i: number): number => zM[i]! - 3 * zM[i + LAG]! + 3 * zM[i + 2 * LAG]! - zM[i + WHOLE]!;
  const most = STEEPEST * REFERENCE_M * Math.sqrt(20);
  let together = 0;
  let all = 0;
  for (const { one, other, way } of pairs) {
    const a = third(one);
    const b = way * third(other);
    if (Math.abs(a) > most || Math.abs(b) > most) continue;
    together += a * b;
    all += (a * a + b * b) / 2;
  }
  return all > 0 ? Math.min(1, Math.max(0, 1 - together / all)) : 0;
}
