import type { ProfilePoint } from '../samples/reading.js';
import type { GroundPath } from './ground.js';
import type { TerrainEstimate } from './severity.js';

const MOST_POINTS = 600;
/** Closer points show nothing that the recorder could have seen. Units: metres. */
const CLOSEST_M = 10;

/**
 * Returns elevation and severity at even distances over the ridden paths, one after the other; no positions.
 * Units: metres. Shape: at most 600 points.
 */
export function profileOf(paths: readonly GroundPath[], cells: TerrainEstimate['cells']): ProfilePoint[] {
  const lengths = paths.map(({ path }) => path.xM.at(-1) ?? 0);
  const total = lengths.reduce((sum, length) => sum + length, 0);
  if (!(total > 0)) return [];
  const count = Math.min(MOST_POINTS, Math.floor(total / CLOSEST_M) + 2);
  const points: ProfilePoint[] = [];
  let at = 0;
  let beforeM = 0;
  let node = 1;
  let cell = 0;
  for (let k = 0; k < count; k++) {
    const distanceM = (total * k) / (count - 1);
    while (at < paths.length - 1 && distanceM > beforeM + lengths[at]!) {
      beforeM += lengths[at++]!;
      node = 1;
    }
    const { path, readM } = paths[at]!;
    const x = Math.min(lengths[at]!, distanceM - beforeM);
    while (node < path.xM.length - 1 && path.xM[node]! < x) node += 1;
    while (
      cell < cells.length &&
      (cells[cell]!.path < at || (cells[cell]!.path === at && cells[cell]!.toM < x))
    )
      cell += 1;
    const here = cells[cell];
    const severity = here && here.path === at && here.fromM <= x ? here.severity : null;
    points.push({
      distanceM: Math.round(distanceM),
      elevationM: between(path.xM, readM, node, x),
      severity: severity === null ? null : Math.round(severity * 100) / 100,
    });
  }
  return points;
}

function between(xM: Float64Array, zM: Float64Array, node: number, x: number): number | null {
  const before = zM[node - 1]!;
  const after = zM[node]!;
  const width = xM[node]! - xM[node - 1]!;
  const share = width > 0 ? Math.min(1, Math.max(0, (x - xM[node - 1]!) / width)) : 1;
  const elevation = before + share * (after - before);
  return Number.isNaN(elevation) ? null : Math.round(elevation * 10) / 10;
}
