import { hasHole } from '../samples/missing.js';
import type { MovingPath } from './movingPath.js';

/** Distance between grid points. Units: metres. */
export const GRID_M = 10;

/** The nodes of a path that have an elevation. Units: as in MovingPath. */
export type ElevationNodes = Pick<MovingPath, 'xM' | 'zM' | 'tS'>;

/** Elevation and moving seconds every 10 m of one path. */
export interface GroundGrid {
  readonly pathIndex: number;
  /** The first and last moving metre and second that have an elevation. */
  readonly fromM: number;
  readonly toM: number;
  readonly startS: number;
  readonly endS: number;
  readonly zM: Float64Array;
  readonly tS: Float64Array;
  /** How far apart the two samples stand that a grid point lies between. */
  readonly bracketM: Float64Array;
}

/** Returns the nodes of a path that have an elevation; all of them at no cost where none lacks it. */
export function elevationNodes({ xM, zM, tS }: MovingPath): ElevationNodes {
  if (!hasHole(zM)) return { xM, zM, tS };
  const known = {
    xM: new Float64Array(zM.length),
    zM: new Float64Array(zM.length),
    tS: new Float64Array(zM.length),
  };
  let size = 0;
  for (let i = 0; i < zM.length; i++) {
    if (Number.isNaN(zM[i]!)) continue;
    known.xM[size] = xM[i]!;
    known.zM[size] = zM[i]!;
    known.tS[size++] = tS[i]!;
  }
  return { xM: known.xM.subarray(0, size), zM: known.zM.subarray(0, size), tS: known.tS.subarray(0, size) };
}

/** Returns the grid of a path, straight between samples, or null of fewer than two nodes. */
export function gridOf({ xM, zM, tS }: ElevationNodes, pathIndex: number): GroundGrid | null {
  const last = xM.length - 1;
  if (last < 1) return null;
  const fromM = xM[0]!;
  const toM = xM[last]!;
  const count = Math.floor((toM - fromM) / GRID_M + 1e-9) + 1;
  const z = new Float64Array(count);
  const t = new Float64Array(count);
  const bracketM = new Float64Array(count);
  let next = 1;
  for (let i = 0; i < count; i += 1) {
    const x = fromM + i * GRID_M;
    while (next < last && xM[next]! < x) next += 1;
    const before = next - 1;
    const gap = xM[next]! - xM[before]!;
    const share = gap > 0 ? Math.min(1, (x - xM[before]!) / gap) : 0;
    z[i] = zM[before]! + share * (zM[next]! - zM[before]!);
    t[i] = tS[before]! + share * (tS[next]! - tS[before]!);
    bracketM[i] = gap;
  }
  return { pathIndex, fromM, toM, startS: tS[0]!, endS: tS[last]!, zM: z, tS: t, bracketM };
}
