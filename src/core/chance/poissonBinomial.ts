/** How likely each total of independent chances is, exactly. */

/** Something that happens or does not: with this chance it adds its size. Units: sizes to the thousandth. */
export interface Chance {
  readonly chance: number;
  readonly size: number;
}

/** How likely each total is. Shape: `chances[i]` is the chance of the total `i × step`; they sum to 1. */
export interface Totals {
  readonly step: number;
  readonly chances: Float64Array;
}

/** How a total spreads. */
export interface Spread {
  readonly mean: number;
  readonly p10: number;
  readonly p50: number;
  readonly p90: number;
}

/** Sizes are counted in these, so that totals are whole. */
const PER_UNIT = 1000;
/** Rounding in a long sum must not push a total that is exactly likely enough to the next one. */
const ROUNDING = 1e-12;

const commonDivisor = (a: number, b: number): number => (b === 0 ? a : commonDivisor(b, a % b));

/**
 * Returns how likely each total is, one term folded in after the other: with all sizes 1 the Poisson-binomial law.
 * Source: the law of a sum of independent variables is the convolution of theirs.
 */
export function totalsOf(terms: readonly Chance[]): Totals {
  const live = terms
    .map(({ chance, size }) => ({ chance: Math.min(1, chance), size: Math.round(size * PER_UNIT) }))
    .filter(({ chance, size }) => chance > 0 && size > 0);
  const step = live.reduce((divisor, { size }) => commonDivisor(divisor, size), 0) || PER_UNIT;
  const most = live.reduce((sum, { size }) => sum + size / step, 0);
  const chances = new Float64Array(most + 1);
  chances[0] = 1;
  let reach = 0;
  for (const { chance, size } of live) {
    const by = size / step;
    reach += by;
    for (let i = reach; i >= 0; i--) {
      const before = i >= by ? chances[i - by]! : 0;
      chances[i] = chances[i]! * (1 - chance) + before * chance;
    }
  }
  return { step: step / PER_UNIT, chances };
}

/** Returns the smallest total that covers a share of what may happen. */
export function coverOf({ step, chances }: Totals, share: number): number {
  let sum = 0;
  for (const [i, chance] of chances.entries()) {
    sum += chance;
    if (sum >= share - ROUNDING) return i * step;
  }
  return (chances.length - 1) * step;
}

/** Returns the chance that the total is greater than a limit. */
export function chanceAbove({ step, chances }: Totals, limit: number): number {
  let within = 0;
  for (const [i, chance] of chances.entries()) if (i * step <= limit + ROUNDING) within += chance;
  return Math.max(0, 1 - within);
}

/** Returns the mean with the totals that cover 10, 50 and 90 %. */
export const spreadOf = (totals: Totals): Spread => ({
  mean: totals.chances.reduce((sum, chance, i) => sum + chance * i * totals.step, 0),
  p10: coverOf(totals, 0.1),
  p50: coverOf(totals, 0.5),
  p90: coverOf(totals, 0.9),
});
