import { joined, quantile } from '../../chance/quantile.js';
import type { Terrain } from '../samples/reading.js';
import { altitudeNoiseOf, noiseWithin, stepVariance } from './altitudeNoise.js';
import { elevationQuality } from './elevationQuality.js';
import { fitGradientChange, type GradientFit, lagsFor, lagVariances } from './gradientChange.js';
import { type ElevationNodes, elevationNodes, GRID_M, type GroundGrid, gridOf } from './groundGrid.js';
import type { MovingPath } from './movingPath.js';
import { type SeverityCell, severityCells } from './severityCells.js';
import { secondsByClass } from './severityClasses.js';
import { witnessesOf } from './witness.js';

export interface TerrainEstimate {
  readonly terrain: Terrain;
  /** Raw severity by cell; empty without elevation. */
  readonly cells: readonly SeverityCell[];
}

/** Samples further apart than this, or a shorter ride, show nothing. Units: metres. */
const SPARSEST_M = 100;
const SHORTEST_M = 1500;
/** Third differences leave out samples further apart than this, or than twice the usual. Units: metres. */
const WIDEST_M = 60;

/**
 * Returns an estimate of how hard the ground worked the suspension, from elevation over distance, with speed and
 * turning as witnesses. It sees how the gradient changes over 40 to 160 m; roots and rocks are extrapolated.
 * Source: third differences of elevation; speed as in ISO 8608's spectrum; constants measured on labelled rides.
 */
export function estimateTerrain(paths: readonly MovingPath[]): TerrainEstimate {
  const nodes = paths.map(elevationNodes);
  const grids = nodes.map(gridOf).filter((grid): grid is GroundGrid => grid !== null);
  const { weight: witnessWeight, lean: witness } = witnessesOf(paths);
  const { fit, cells, quality } =
    grids.length === 0 ? { fit: null, cells: [], quality: null } : fromElevation(paths, nodes, grids);
  return {
    terrain: {
      classS: secondsByClass(cells),
      quality,
      witnessWeight,
      witness,
      gradientChange: fit?.gradientChange ?? null,
      noiseM: fit?.noiseM ?? null,
    },
    cells,
  };
}

interface FromElevation {
  readonly fit: GradientFit | null;
  readonly cells: readonly SeverityCell[];
  readonly quality: number;
}

function fromElevation(
  paths: readonly MovingPath[],
  nodes: readonly ElevationNodes[],
  grids: readonly GroundGrid[],
): FromElevation {
  const spacingM = quantile(joined(grids.map(({ bracketM }) => bracketM)), 0.5);
  const widestM = Math.max(WIDEST_M, 2 * spacingM);
  const lagsM = lagsFor(spacingM);
  const variances = lagVariances(grids, lagsM, widestM);
  const noise = altitudeNoiseOf(nodes);
  const fit = fitGradientChange(variances, (lagM) => stepVariance(noise.stepM, noise.changePerM, lagM));
  if (fit === null) return { fit, cells: unmeasured(grids), quality: 0 };
  const cells = severityCells(grids, fit, lagsM, widestM);
  if (spacingM > SPARSEST_M || lengthOf(grids) < SHORTEST_M) return { fit, cells, quality: 0 };
  const near = variances.find(({ lagM }) => lagM === lagsM[2]);
  const suspect = near === undefined ? 1 : noiseWithin(noise, near.v, near.lagM) / near.v;
  const quality = coverage(paths, cells) * elevationQuality(fit, variances, lagsM, suspect);
  return { fit, cells, quality };
}

const lengthOf = (grids: readonly GroundGrid[]): number =>
  grids.reduce((sum, { zM }) => sum + (zM.length - 1) * GRID_M, 0);

/** The share of moving time that has elevation. */
function coverage(paths: readonly MovingPath[], cells: readonly SeverityCell[]): number {
  const movingS = paths.reduce((sum, { tS }) => sum + (tS.at(-1) ?? 0) - (tS[0] ?? 0), 0);
  return cells.reduce((sum, cell) => sum + cell.movingS, 0) / movingS;
}

/** Where nothing could be measured the seconds stand at 1; with Q = 0 that weighs nothing. */
const unmeasured = (grids: readonly GroundGrid[]): SeverityCell[] =>
  grids.map(({ pathIndex, fromM, toM, startS, endS }) => ({
    path: pathIndex,
    fromM,
    toM,
    movingS: endS - startS,
    severity: 1,
  }));
