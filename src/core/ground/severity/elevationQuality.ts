import type { GradientFit, LagVariance } from './gradientChange.js';
import { GRID_M } from './groundGrid.js';

/** One independent value of the ride per this length, at the shortest lag. */
const INDEPENDENT_M = 240;
/** How far logarithms of severity differ between rides; an error of this size makes Q one half. */
const SPREAD = 0.6;
/** Suspicion alone never silences elevation: ground recorded without any smoothing looks the same as such noise. */
const MOST_SUSPECT = 0.72;

/**
 * Returns Q, how well γ is known, 0 to 1. It falls by how few independent values there are; how much of V is noise; how
 * far V grows as ground does and not as the slow error of an altimeter; how much of it the shortest times make suspect.
 * `suspect` is the share of V at the third lag that may be noise.
 */
export function elevationQuality(
  fit: GradientFit,
  variances: readonly LagVariance[],
  lagsM: readonly number[],
  suspect: number,
): number {
  if (fit.roughness === 0) return 0;
  const scale = Math.max(1, lagsM[2]! / 80);
  const values = (variances[0]!.count * GRID_M) / (INDEPENDENT_M * scale);
  const noise = fit.noiseM ** 2 / fit.roughness;
  const share = Math.min(MOST_SUSPECT, suspect);
  const error =
    (1 + noise) ** 2 / (2 * values) +
    ((0.6 * noise) / (1 + noise)) ** 2 +
    (0.8 * (1 - growth(variances, lagsM))) ** 2 +
    // So that quality is poor where nearly half of V is suspect, whatever the rest says.
    ((0.9 * share) / (1 - share)) ** 2;
  return SPREAD ** 2 / (SPREAD ** 2 + error);
}

/** Returns 1 where V grows with the lag as on ground, 0 where it hardly grows. */
function growth(variances: readonly LagVariance[], lagsM: readonly number[]): number {
  const near = variances.find(({ lagM }) => lagM === lagsM[2]);
  const far = variances.find(({ lagM }) => lagM === lagsM[4]);
  if (near === undefined || far === undefined) return 0;
  return Math.min(1, Math.max(0, Math.log2(far.v / near.v) - 0.4));
}
