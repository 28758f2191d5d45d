import { type GradientFit, growthOf, type LagVariance } from './gradientChange.js';
import { GRID_M } from './groundGrid.js';
import type { HeightError } from './heightError.js';

/** One independent value of the ride per this length, at the shortest lag. */
const INDEPENDENT_M = 240;
/** How far logarithms of severity differ between rides; an error of this size makes Q one half. */
export const SPREAD = 0.6;
/** Suspicion alone never silences elevation: ground recorded without any smoothing looks the same as such noise. */
const MOST_SUSPECT = 0.72;

/**
 * Returns Q, how well γ is known, 0 to 1. It falls by how few independent values there are, and how much of V is noise.
 * It falls where V grows less than ground does, and where the shortest times or the heights themselves make it suspect.
 * `suspect` is the share of V that may be noise.
 */
export function elevationQuality(
  fit: GradientFit,
  variances: readonly LagVariance[],
  suspect: number,
  heights: HeightError,
): number {
  if (fit.roughness === 0) return 0;
  const values = (variances[0]!.count * GRID_M) / INDEPENDENT_M;
  const noise = fit.noiseM ** 2 / fit.roughness;
  const share = Math.min(MOST_SUSPECT, suspect);
  const growth = Math.min(1, Math.max(0, (growthOf(variances) ?? 0) - 0.4));
  const error =
    (1 + noise) ** 2 / (2 * values) +
    ((0.6 * noise) / (1 + noise)) ** 2 +
    (0.8 * (1 - growth)) ** 2 +
    // So that quality is poor where nearly half of V is suspect, whatever the rest says.
    ((0.9 * share) / (1 - share)) ** 2 +
    unsureError(heights);
  return SPREAD ** 2 / (SPREAD ** 2 + error);
}

/** Returns by how much logarithms of severity may err, squared, for what is not known of the error of heights. */
export const unsureError = ({ share, unsure }: HeightError): number => (unsure / (1 - share)) ** 2;
