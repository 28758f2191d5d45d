import { GRID_M, type GroundGrid } from './groundGrid.js';

/** The lags at which gradient change is looked for. Units: metres. */
const LAGS_M = [40, 60, 80, 120, 160];
/** The lag that the fit is written at. Units: metres. */
const REFERENCE_M = 80;
const LEAST_VALUES = 50;
const LEAST_LAGS = 3;
/** A third difference steeper than this is a fault of the record, not ground. */
const STEEPEST = 0.3;
/** Keeps 1/V² finite on ground without any relief. Units: square metres. */
const LEAST_VARIANCE = 1e-12;

/** Mean squared third difference at one lag, over 20 so that white noise of σ gives σ². Units: metres, square metres. */
export interface LagVariance {
  readonly lagM: number;
  readonly v: number;
  readonly count: number;
}

/** V(L) = σ² + γ²·L², fitted. `roughness` is γ²·(80 m)². */
export interface GradientFit {
  readonly gradientChange: number;
  readonly noiseM: number;
  readonly roughness: number;
}

/** Returns the lags for samples that stand `spacingM` apart, shortest first. */
export function lagsFor(spacingM: number): number[] {
  const scale = Math.max(1, spacingM / 40);
  return LAGS_M.map((lag) => Math.round((lag * scale) / GRID_M) * GRID_M);
}

/** Returns the squared third difference that begins at grid point i, over 20, or NaN where it cannot be trusted. */
export function thirdDifference(
  { zM, bracketM }: GroundGrid,
  i: number,
  lagM: number,
  widestM: number,
): number {
  const k = lagM / GRID_M;
  const last = i + 3 * k;
  if (last >= zM.length) return Number.NaN;
  const isSparse =
    bracketM[i]! > widestM ||
    bracketM[i + k]! > widestM ||
    bracketM[i + 2 * k]! > widestM ||
    bracketM[last]! > widestM;
  if (isSparse) return Number.NaN;
  const d = zM[i]! - 3 * zM[i + k]! + 3 * zM[i + 2 * k]! - zM[last]!;
  const q = (d * d) / 20;
  return q > (STEEPEST * lagM) ** 2 ? Number.NaN : q;
}

/** Returns V at every lag that has values enough. */
export function lagVariances(
  grids: readonly GroundGrid[],
  lagsM: readonly number[],
  widestM: number,
): LagVariance[] {
  return lagsM
    .map((lagM) => {
      let sum = 0;
      let count = 0;
      for (const grid of grids)
        for (let i = 0; i < grid.zM.length; i += 1) {
          const q = thirdDifference(grid, i, lagM, widestM);
          if (Number.isNaN(q)) continue;
          sum += q;
          count += 1;
        }
      return { lagM, v: sum / count, count };
    })
    .filter(({ count }) => count >= LEAST_VALUES);
}

/**
 * Returns the fit by least squares with weights 1/V², both terms at least 0, or null under three lags. `knownNoise` is
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
  if (roughness < 0) {
    roughness = 0;
    noise = wy / w;
  }
  return {
    gradientChange: Math.sqrt(roughness) / REFERENCE_M,
    noiseM: Math.sqrt(noise + knownNoise(REFERENCE_M)),
    roughness,
  };
}
