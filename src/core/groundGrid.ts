import type { MovingPath } from './movingPath.js';

/** Distance between grid points. Units: metres. */
export const GRID_M = 10;

/**
 * Elevation and moving seconds every 10 m of one path, with the distance between the samples on either side.
 * `pathIndex` is the path it came from; `fromM` its first moving metre with elevation; `endS` and `startS` the moving
 * seconds at its ends.
 */
export interface GroundGrid {
  readonly pathIndex: number;
  readonly fromM: number;
  readonly toM: number;
  readonly startS: number;
  readonly endS: number;
  readonly zM: Float64Array;
  readonly tS: Float64Array;
  readonly bracketM: Float64Array;
}

/** Returns the grid of a path, or null where fewer than two of its nodes have an elevation. */
export function gridOf(path: MovingPath, pathIndex: number): GroundGrid | null {
  const { xM, zM, tS } = path;
  const size = xM.length;
  let at = 0;
  while (at < size && Number.isNaN(zM[at]!)) at += 1;
  let last = size - 1;
  while (last > at && Number.isNaN(zM[last]!)) last -= 1;
  if (at >= last) return null;

  const fromM = xM[at]!;
  const count = Math.floor((xM[last]! - fromM) / GRID_M + 1e-9) + 1;
  const z = new Float64Array(count);
  const t = new Float64Array(count);
  const bracket = new Float64Array(count);
  const startS = tS[at]!;
  let next = at + 1;
  for (let i = 0; i < count; i += 1) {
    const x = fromM + i * GRID_M;
    while (next < last && (Number.isNaN(zM[next]!) || xM[next]! < x)) {
      if (!Number.isNaN(zM[next]!)) at = next;
      next += 1;
    }
    const gap = xM[next]! - xM[at]!;
    const share = gap > 0 ? Math.min(1, Math.max(0, (x - xM[at]!) / gap)) : 0;
    z[i] = zM[at]! + share * (zM[next]! - zM[at]!);
    t[i] = tS[at]! + share * (tS[next]! - tS[at]!);
    bracket[i] = gap;
  }
  return { pathIndex, fromM, toM: xM[last]!, startS, endS: tS[last]!, zM: z, tS: t, bracketM: bracket };
}
