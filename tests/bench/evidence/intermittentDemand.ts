/** A smoothed size and what goes with it; the forecast is a mean per period. Shape: series oldest first. */
interface Croston {
  readonly size: number;
  readonly gap: number;
  readonly perPeriod: number;
}

/**
 * Croston's method: sizes and gaps between them smoothed apart, started with the first of each.
 * Source: J. D. Croston 1972, as in Forecasting: Principles and Practice, 2nd edition, 12.2.
 */
export const croston = (series: readonly number[], alpha: number): Croston => {
  let size = 0;
  let gap = 0;
  let since = 0;
  for (const value of series) {
    since += 1;
    if (value <= 0) continue;
    size = gap === 0 ? value : size + alpha * (value - size);
    gap = gap === 0 ? since : gap + alpha * (since - gap);
    since = 0;
  }
  return { size, gap, perPeriod: gap === 0 ? 0 : size / gap };
};

/** Syntetos and Boylan's correction of Croston's bias. */
export const syntetosBoylan = (series: readonly number[], alpha: number): number =>
  (1 - alpha / 2) * croston(series, alpha).perPeriod;

/** Teunter, Syntetos and Babai's method: the chance of a demand is updated in every period, its size when there is one. */
export const teunterSyntetosBabai = (
  series: readonly number[],
  { alpha, beta, size, chance }: { alpha: number; beta: number; size: number; chance: number },
): number => {
  let z = size;
  let p = chance;
  for (const value of series) {
    p += beta * (Number(value > 0) - p);
    if (value > 0) z += alpha * (value - z);
  }
  return z * p;
};
