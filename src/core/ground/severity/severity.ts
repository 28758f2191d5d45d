import { joined, quantile } from '../../chance/quantile.js';
import type { HeightEvidence, HeightsAtRest } from '../samples/heightEvidence.js';
import type { Terrain } from '../samples/reading.js';
import { type AltitudeNoise, altitudeNoiseOf, noiseWithin, stepVariance } from './altitudeNoise.js';
import { elevationQuality } from './elevationQuality.js';
import {
  fitGradientChange,
  type GradientFit,
  type GroundVariance,
  groundVariance,
  REFERENCE_M,
} from './gradientChange.js';
import { elevationNodes, GRID_M, type GroundGrid, gridOf } from './groundGrid.js';
import { errorAt, type HeightError, heightErrorOf, UNSEEN } from './heightError.js';
import { heightsAgain } from './heightsAgain.js';
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
const SPARSEST_M = 136;
const SHORTEST_M = 1500;
/** Seconds count as ridden with elevation where samples stand no further apart than this, or than twice the usual. */
const WIDEST_M = 100;

/**
 * Returns an estimate of how hard the ground worked the suspension, from elevation over distance, with speed and
 * turning as witnesses. It sees how the gradient changes over 60 to 160 m; roots and rocks are extrapolated.
 * Source: third differences of elevation; speed as in ISO 8608's spectrum; constants measured on labelled rides.
 */
export function estimateTerrain(
  paths: readonly MovingPath[],
  rest: HeightsAtRest | null = null,
): TerrainEstimate {
  const ground = groundOf(paths);
  const { weight: witnessWeight, lean: witness } = witnessesOf(paths);
  const known = { witnessWeight, witness };
  if (ground === null) {
    const nothing = { classS: secondsByClass([]), quality: null, gradientChange: null, noiseM: null };
    return { terrain: { ...nothing, ...known }, cells: [] };
  }
  const heights = heightEvidence(paths, ground, rest);
  const error = heightErrorOf(heights);
  const { fit, cells } = fromElevation(ground, error, heights.variance);
  return {
    terrain: {
      classS: secondsByClass(cells),
      quality: fit === null ? 0 : qualityOf(paths, ground, { fit, cells }, error),
      ...known,
      gradientChange: fit?.gradientChange ?? null,
      noiseM: fit?.noiseM ?? null,
      heights,
    },
    cells,
  };
}

/** Returns moving seconds by class of a part of a ride, whose heights err as the whole ride's do. */
export function classesOfPart(paths: readonly MovingPath[], whole: HeightEvidence | undefined): number[] {
  const ground = groundOf(paths);
  if (ground === null) return secondsByClass([]);
  const variance = whole?.variance ?? 0;
  const error = whole === undefined ? UNSEEN : heightErrorOf(whole);
  return secondsByClass(fromElevation(ground, error, variance).cells);
}

/** The ground under the paths as every recorder can see it. */
interface SeenGround extends GroundVariance {
  readonly grids: readonly GroundGrid[];
  readonly noise: AltitudeNoise;
  readonly spacingM: number;
}

function groundOf(paths: readonly MovingPath[]): SeenGround | null {
  const nodes = paths.map(elevationNodes);
  const grids = nodes.map(gridOf).filter((grid): grid is GroundGrid => grid !== null);
  if (grids.length === 0) return null;
  const spacingM = quantile(joined(grids.map(({ bracketM }) => bracketM)), 0.5);
  return { grids, spacingM, noise: altitudeNoiseOf(nodes), ...groundVariance(grids, spacingM) };
}

function heightEvidence(
  paths: readonly MovingPath[],
  { variances }: SeenGround,
  rest: HeightsAtRest | null,
): HeightEvidence {
  const variance = variances.find(({ lagM }) => lagM === REFERENCE_M)?.v ?? 0;
  return { variance: Math.round(1e4 * variance) / 1e4, again: heightsAgain(paths), rest };
}

function fromElevation(
  { grids, noise, spacingM, variances, growth }: SeenGround,
  error: HeightError,
  variance: number,
): { readonly fit: GradientFit | null; readonly cells: readonly SeverityCell[] } {
  const known = (lagM: number): number =>
    Math.max(stepVariance(noise.stepM, noise.changePerM, lagM), errorAt(error, variance, lagM));
  const fit = fitGradientChange(variances, known);
  if (fit === null) return { fit, cells: unmeasured(grids) };
  return { fit, cells: severityCells(grids, fit, growth, Math.max(WIDEST_M, 2 * spacingM)) };
}

function qualityOf(
  paths: readonly MovingPath[],
  { grids, noise, spacingM, variances }: SeenGround,
  { fit, cells }: { readonly fit: GradientFit; readonly cells: readonly SeverityCell[] },
  error: HeightError,
): number {
  if (spacingM > SPARSEST_M || lengthOf(grids) < SHORTEST_M) return 0;
  // At a lag as short as the time that noise is looked for in, both would be the same.
  const from = Math.max(REFERENCE_M, 2 * noise.lagM);
  const near = variances.find(({ lagM }) => lagM >= from) ?? variances.at(-1)!;
  const suspect = noiseWithin(noise, near.v, near.lagM) / near.v;
  return coverage(paths, cells) * elevationQuality(fit, variances, suspect, error);
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
