/** The workshop's own weights, from the foam rings that it looked at: which weights tell best when rings go dark. */
import { fitRise, RISE_CURVES } from '../chance/riseFit.js';
import type { Range } from '../ledger/findingsTeach.js';
import type { Weights } from '../ledger/ledger.js';
import type { Clamp } from '../ledger/weight.js';
import { type GroundHours, hoursBy } from './groundHours.js';

/** Foam rings seen at the end of a service period, with the riding since they were new. */
export interface GroundSeen {
  readonly ground: GroundHours;
  readonly isDark: boolean;
}

/** Rings tell how grounds compare, not how much any counts: the typical trail stays the measure, as it is set. */
export interface OwnWeights {
  readonly weights: Weights;
  readonly smooth: Range;
  readonly rough: Range;
  /** Whether the weights that stand now are within both ranges. */
  readonly holdsNow: boolean;
}

/** Under these nothing is told: fewer say hardly anything of how grounds compare. */
export const LEAST_LOOKS = 80;
export const LEAST_EACH = 20;

export interface WeightsTaught {
  readonly services: number;
  /** How many more must be seen before anything is told. */
  readonly missing: { readonly services: number; readonly dark: number; readonly notDark: number };
  /** Null while too little was seen. */
  readonly own: OwnWeights | null;
}

/** Points between each bound and the typical trail. */
const POINTS = 13;
/** Services of one unit are alike, so ranges are made wider; chosen on other simulations, see the evidence. */
const WIDENED = 1.6;
/**
 * How far the logarithm of the likelihood may fall within a range that holds the truth eight times of ten.
 * Source: Wilks 1938, half the 80 % point of χ² with one degree of freedom, 1.642.
 */
const FALL = (WIDENED * 1.642) / 2;
const steps = (from: number, to: number): number[] =>
  Array.from({ length: POINTS }, (_, i) =>
    i === POINTS - 1 ? to : from * (to / from) ** (i / (POINTS - 1)),
  );

/** The better of both curves, for nobody knows which is nearer to the truth. */
const fitOf = (seen: readonly GroundSeen[], weights: Weights): number => {
  const hoursOf = hoursBy(weights);
  const rises = seen.map(({ ground, isDark }) => ({ hours: hoursOf(ground), isHit: isDark }));
  return Math.max(...RISE_CURVES.map((curve) => fitRise(rises, curve).logLikelihood));
};

const best = (fits: readonly number[]): number => Math.max(...fits);

/** Returns where a line through the points crosses the least fit, on both sides of the best. */
function rangeOf(at: readonly number[], fits: readonly number[], least: number): Range {
  const inside = fits.flatMap((fit, i) => (fit >= least ? [i] : []));
  const [first, last] = [inside[0]!, inside.at(-1)!];
  const between = (i: number, j: number): number =>
    at[i]! * (at[j]! / at[i]!) ** ((fits[i]! - least) / (fits[i]! - fits[j]!));
  return {
    low: first === 0 ? at[0]! : between(first, first - 1),
    high: last === at.length - 1 ? at[last]! : between(last, last + 1),
  };
}

/** Returns the top of the parabola through the best point and its neighbours. */
function topOf(at: readonly number[], fits: readonly number[]): number {
  const i = fits.indexOf(best(fits));
  if (i === 0 || i === at.length - 1) return at[i]!;
  const [a, b, c] = [fits[i - 1]!, fits[i]!, fits[i + 1]!];
  const off = (a - c) / (2 * (a - 2 * b + c));
  return at[i]! * (at[i + 1]! / at[i]!) ** off;
}

const isWithin = ({ low, high }: Range, value: number): boolean => low <= value && value <= high;

function learn(seen: readonly GroundSeen[], now: Weights, { low, high }: Clamp): OwnWeights {
  const smoothAt = steps(Math.min(low, now.typical), now.typical);
  const roughAt = steps(now.typical, Math.max(high, now.typical));
  const fits = smoothAt.map((smooth) => roughAt.map((rough) => fitOf(seen, { ...now, smooth, rough })));
  const bySmooth = fits.map(best);
  const byRough = roughAt.map((_, i) => best(fits.map((row) => row[i]!)));
  const least = best(bySmooth) - FALL;
  const [smooth, rough] = [rangeOf(smoothAt, bySmooth, least), rangeOf(roughAt, byRough, least)];
  return {
    weights: { ...now, smooth: topOf(smoothAt, bySmooth), rough: topOf(roughAt, byRough) },
    smooth,
    rough,
    holdsNow: isWithin(smooth, now.smooth) && isWithin(rough, now.rough),
  };
}

/** Returns the workshop's own weights with their ranges, or how much has been seen while that is too little. */
export function teachWeights(seen: readonly GroundSeen[], now: Weights, bounds: Clamp): WeightsTaught {
  const services = seen.length;
  const dark = seen.filter(({ isDark }) => isDark).length;
  const missing = {
    services: Math.max(0, LEAST_LOOKS - services),
    dark: Math.max(0, LEAST_EACH - dark),
    notDark: Math.max(0, LEAST_EACH - (services - dark)),
  };
  const isEnough = missing.services + missing.dark + missing.notDark === 0;
  return { services, missing, own: isEnough ? learn(seen, now, bounds) : null };
}
