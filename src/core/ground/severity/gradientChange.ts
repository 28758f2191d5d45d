import { GRID_M, type GroundGrid } from './groundGrid.js';

/** The lags at which gradient change is looked for, the same for every recorder. Units: metres. */
const LAGS_M = [60, 80, 120, 160];
/** The lag that the fit is written at, and twice it. Units: metres. */
export const REFERENCE_M = 80;
export const TWICE_M = 2 * REFERENCE_M;
const LEAST_VALUES = 50;
const LEAST_LAGS = 2;
/** A third difference steeper than this is a fault of the record; one over the other counts as much as that. */
const STEEPEST = 0.3;
const MOST = 0.1;
/** Samples further apart than this many lags say nothing at the lag, and hardly anything from the other on. */
const SPARSEST_LAGS = 2.5;
const USUAL_LAGS = 1.7;
/** Keeps 1/V² finite on ground without any relief. Units: square metres. */
const LEAST_VARIANCE = 1e-12;
/** V grows with this power of the lag: as gradients do that change at random, at least and at most. */
const LEAST_GROWTH = 1.5;
const MOST_GROWTH = 3;
const ROUNDS = 4;

/** Mean squared third difference at one lag, over 20 so that white noise of σ gives σ². Units: metres, square metres. */
export interface LagVariance {
  readonly lagM: number;
  readonly v: number;
  readonly count: number;
}

/** V by lag, and the power of the lag with which it grows. */
export interface GroundVariance {
  readonly variances: readonly LagVariance[];
  readonly growth: number;
}

/** V(L) = σ² + γ²·L², fitted. `roughness` is γ²·(80 m)². */
export interface GradientFit {
  readonly gradientChange: number;
  readonly noiseM: number;
  readonly roughness: number;
}

/** Returns the squared third difference that begins at grid point i, over 20, or NaN where it cannot be trusted. */
export function thirdDifference({ zM, bracketM }: GroundGrid, i: number, lagM: number): number {
  const k = lagM / GRID_M;
  const last = i + 3 * k;
  if (last >= zM.length) return Number.NaN;
  const widestM = SPARSEST_LAGS * lagM;
  const isSparse =
    bracketM[i]! > widestM ||
    bracketM[i + k]! > widestM ||
    bracketM[i + 2 * k]! > widestM ||
    bracketM[last]! > widestM;
  if (isSparse) return Number.NaN;
  const d = zM[i]! - 3 * zM[i + k]! + 3 * zM[i + 2 * k]! - zM[last]!;
  const q = (d * d) / 20;
  return q > (STEEPEST * lagM) ** 2 ? Number.NaN : Math.min(q, (MOST * lagM) ** 2);
}

/** Returns how far apart the samples stand that a third difference is made of, in lags. */
export function spacingIn({ bracketM }: GroundGrid, i: number, lagM: number): number {
  const k = lagM / GRID_M;
  return (bracketM[i]! + 3 * bracketM[i + k]! + 3 * bracketM[i + 2 * k]! + bracketM[i + 3 * k]!) / (8 * lagM);
}

/**
 * Returns the share of V that is left where heights lie straight between samples `spacing` lags apart.
 * Source: numerical means over ground whose V grows with that power; its test makes them anew.
 */
export const seenShare = (spacing: number, growth: number): number =>
  1 / (1 + (1.62 - 0.27 * growth) * spacing ** 1.83);

/**
 * Returns V at every lag that has values enough, as it would be had the samples stood close. How much sparse ones hide
 * depends on how V grows, which is found in rounds.
 */
export function groundVariance(grids: readonly GroundGrid[], spacingM: number): GroundVariance {
  const sums = LAGS_M.filter((lagM) => spacingM <= USUAL_LAGS * lagM)
    .map((lagM) => sumsAt(grids, lagM))
    .filter(({ count }) => count >= LEAST_VALUES);
  let growth = 2;
  let variances: LagVariance[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    const share = (growth - LEAST_GROWTH) / (MOST_GROWTH - LEAST_GROWTH);
    variances = sums.map(({ lagM, sum, count, seen }) => ({
      lagM,
      v: sum / (seen[0] + share * (seen[1] - seen[0])),
      count,
    }));
    growth = Math.min(MOST_GROWTH, Math.max(LEAST_GROWTH, growthOf(variances) ?? growth));
  }
  return { variances, growth };
}

/** Returns the power with which V grows from the reference to twice it, or null where it is not known at both. */
export function growthOf(variances: readonly LagVariance[]): number | null {
  const near = variances.find(({ lagM }) => lagM === REFERENCE_M);
  const far = variances.find(({ lagM }) => lagM === TWICE_M);
  return near === undefined || far === undefined || !(near.v > 0) ? null : Math.log2(far.v / near.v);
}

/** Sums at a lag: of squared third differences, and of the shares seen of them for the least and the most growth. */
interface LagSums {
  readonly lagM: number;
  readonly sum: number;
  readonly count: number;
  readonly seen: readonly [number, number];
}

function sumsAt(grids: readonly GroundGrid[], lagM: number): LagSums {
  let sum = 0;
  let count = 0;
  let least = 0;
  let most = 0;
  for (const grid of grids)
    for (let i = 0; i < grid.zM.length; i += 1) {
      const q = thirdDifference(grid, i, lagM);
      if (Number.isNaN(q)) continue;
      const spacing = spacingIn(grid, i, lagM);
      sum += q;
      count += 1;
      least += seenShare(spacing, LEAST_GROWTH);
      most += seenShare(spacing, MOST_GROWTH);
    }
  return { lagM, sum, count, seen: [least, most] };
}

/**
 * Returns the fit by least squares with weights 1/V², both terms at least 0, or null under two lags. `knownNoise` is
 * the part of the noise that is known beforehand.
 */
export function fitGradientChange(
  variances: readonly LagVariance[],
  knownNoise: (lagM: number) => number,
): GradientFit | null {
  if (variances.length < LEAST_LAGS) return null;
  let w = 0;
  let wx = 0;
  let wxx = 0;
  let wy = 0;
  let wxy = 0;
  for (const { lagM, v } of variances) {
    // A tenth is left: the known noise is an estimate too, and V must stay positive.
    const y = Math.max(0.1 * v, v - knownNoise(lagM), LEAST_VARIANCE);
    const x = (lagM / REFERENCE_M) ** 2;
    const weight = 1 / y ** 2;
    w += weight;
    wx += weight * x;
    wxx += weight * x * x;
    wy += weight * y;
    wxy += weight * x * y;
  }
  let roughness = (w * wxy - wx * wy) / (w * wxx - wx * wx);
  let noise = (wy - roughness * wx) / w;
  if (noise < 0) {
    noise = 0;
    roughness = wxy / wxx;
  }
  if (roughness < LEAST_VARIANCE) {
    roughness = 0;
    noise = wy / w;
  }
  return {
    gradientChange: Math.sqrt(roughness) / REFERENCE_M,
    noiseM: Math.sqrt(noise + knownNoise(REFERENCE_M)),
    roughness,
  };
}
