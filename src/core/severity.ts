import { elevationQuality } from './elevationQuality.js';
import { fitGradientChange, lagsFor, lagVariances } from './gradientChange.js';
import { GRID_M, type GroundGrid, gridOf } from './groundGrid.js';
import type { MovingPath } from './movingPath.js';
import type { Terrain } from './reading.js';
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

/**
 * Returns an estimate of how hard the ground worked the suspension, from elevation over distance, with speed and
 * turning as witnesses. It sees how the gradient changes over 40 to 160 m; roots and rocks are extrapolated.
 * Source: third differences of elevation, ISO 8608 for the part of speed; constants measured on labelled rides.
 */
export function estimateTerrain(paths: readonly MovingPath[]): TerrainEstimate {
  const grids = paths.map(gridOf).filter((grid): grid is GroundGrid => grid !== null);
  const { weight: witnessWeight, lean: witness } = witnessesOf(paths);
  const said = { witnessWeight, witness };
  if (grids.length === 0) {
    const classS = secondsByClass([]);
    return {
      terrain: { classS, quality: null, ...said, gradientChange: null, noiseM: null },
      cells: [],
    };
  }
  const spacingM = medianBracket(grids);
  const widestM = Math.max(60, 2 * spacingM);
  const lagsM = lagsFor(spacingM);
  const variances = lagVariances(grids, lagsM, widestM);
  const fit = fitGradientChange(variances);
  const usable = spacingM <= SPARSEST_M && lengthOf(grids) >= SHORTEST_M;
  const cells = fit === null ? unmeasured(grids) : severityCells(grids, fit, lagsM, widestM);
  const quality = usable && fit !== null ? elevationQuality(fit, variances, lagsM) : 0;
  return {
    terrain: {
      classS: secondsByClass(cells),
      quality,
      ...said,
      gradientChange: fit?.gradientChange ?? null,
      noiseM: fit?.noiseM ?? null,
    },
    cells,
  };
}

const lengthOf = (grids: readonly GroundGrid[]): number =>
  grids.reduce((sum, grid) => sum + (grid.zM.length - 1) * GRID_M, 0);

/** Where nothing could be measured the seconds stand at 1; with Q = 0 they weigh nothing. */
const unmeasured = (grids: readonly GroundGrid[]): SeverityCell[] =>
  grids.map(({ pathIndex, fromM, toM, startS, endS }) => ({
    path: pathIndex,
    fromM,
    toM,
    movingS: endS - startS,
    severity: 1,
  }));

function medianBracket(grids: readonly GroundGrid[]): number {
  const all = new Float64Array(grids.reduce((sum, grid) => sum + grid.bracketM.length, 0));
  let at = 0;
  for (const { bracketM } of grids) {
    all.set(bracketM, at);
    at += bracketM.length;
  }
  return all.sort()[all.length >> 1]!;
}
