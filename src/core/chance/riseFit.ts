/** A chance that rises with hours, from yes and no at known hours: two curves, neither of which is taken for the truth. */

/** What was seen at some hours. */
export interface Rise {
  readonly hours: number;
  readonly isHit: boolean;
}

/** Which curve over the logarithm of hours: its chance is even about the middle, or has a long lower end. */
export type RiseCurve = 'even' | 'early';
export const RISE_CURVES = ['even', 'early'] as const;

/** How steep rings, seals and other wearing parts are taken to be before anything was seen. An assumption. */
const STEEPNESS = { mean: 3, variance: 4 };
const MOST_STEPS = 30;
const SETTLED = 1e-7;
const EDGE = 1e-9;

/** Returns the chance at a value, and how fast it rises there. */
function chanceAt(curve: RiseCurve, eta: number): { readonly chance: number; readonly slope: number } {
  const bounded = Math.max(-12, Math.min(curve === 'even' ? 12 : 3, eta));
  const e = Math.exp(bounded);
  const [chance, slope] =
    curve === 'even' ? [e / (1 + e), e / (1 + e) ** 2] : [1 - Math.exp(-e), e * Math.exp(-e)];
  return { chance: Math.min(1 - EDGE, Math.max(EDGE, chance)), slope: slope + 1e-12 };
}

const etaOf = (curve: RiseCurve, chance: number): number =>
  curve === 'even' ? Math.log(chance / (1 - chance)) : Math.log(-Math.log(1 - chance));

/** A fitted curve: its chance follows from `level + steepness · (ln hours − middle)`. */
export interface RiseFit {
  readonly middle: number;
  readonly level: number;
  readonly steepness: number;
  /** How well it fits what was seen, what is taken of the steepness included. */
  readonly logLikelihood: number;
}

/**
 * Returns the curve fitted by Fisher scoring.
 * Source: McCullagh and Nelder, Generalized Linear Models, 2nd edition, 2.5 and 4.3 (logit and complementary log-log),
 * from memory.
 */
export function fitRise(seen: readonly Rise[], curve: RiseCurve): RiseFit {
  const xs = seen.map(({ hours }) => Math.log(hours));
  const middle = xs.reduce((sum, x) => sum + x, 0) / xs.length;
  let [a, b] = [0, STEEPNESS.mean];
  for (let step = 0; step < MOST_STEPS; step++) {
    let [g0, g1] = [0, (STEEPNESS.mean - b) / STEEPNESS.variance];
    let [h00, h01, h11] = [EDGE, 0, 1 / STEEPNESS.variance];
    for (let i = 0; i < xs.length; i++) {
      const u = xs[i]! - middle;
      const { chance: p, slope } = chanceAt(curve, a + b * u);
      const pull = (((seen[i]!.isHit ? 1 : 0) - p) * slope) / (p * (1 - p));
      const weight = slope ** 2 / (p * (1 - p));
      g0 += pull;
      g1 += pull * u;
      h00 += weight;
      h01 += weight * u;
      h11 += weight * u * u;
    }
    const det = h00 * h11 - h01 * h01;
    const [da, db] = [(h11 * g0 - h01 * g1) / det, (h00 * g1 - h01 * g0) / det];
    // A step too far would leap over the best.
    const part = Math.min(1, 1 / Math.max(Math.abs(da), Math.abs(db), EDGE));
    a += part * da;
    b += part * db;
    if (Math.abs(da) + Math.abs(db) < SETTLED) break;
  }
  let logLikelihood = -((b - STEEPNESS.mean) ** 2) / (2 * STEEPNESS.variance);
  for (let i = 0; i < xs.length; i++) {
    const { chance } = chanceAt(curve, a + b * (xs[i]! - middle));
    logLikelihood += Math.log(seen[i]!.isHit ? chance : 1 - chance);
  }
  return { middle, level: a, steepness: b, logLikelihood };
}

/** Returns the hours at which a chance is reached on the fitted curve; infinite where it never rises. */
export function hoursAtChance(seen: readonly Rise[], chance: number, curve: RiseCurve): number {
  const { middle, level, steepness } = fitRise(seen, curve);
  return steepness <= 0.05
    ? Number.POSITIVE_INFINITY
    : Math.exp(middle + (etaOf(curve, chance) - level) / steepness);
}
