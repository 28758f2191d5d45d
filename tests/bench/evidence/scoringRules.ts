/** Loss of one quantile. Source: the pinball function, as in the forecasting literature. */
export const pinball = (probability: number, quantile: number, actual: number): number =>
  actual < quantile ? (1 - probability) * (quantile - actual) : probability * (actual - quantile);

/** Loss of a whole sample of forecasts; `fair` leaves out pairs of a member with itself. */
export const sampleCrps = (members: readonly number[], actual: number, fair = false): number => {
  const n = members.length;
  const miss = members.reduce((sum, x) => sum + Math.abs(x - actual), 0) / n;
  const spread = members.reduce((sum, x) => sum + members.reduce((s, y) => s + Math.abs(x - y), 0), 0);
  return miss - spread / (2 * n * (fair ? n - 1 : n));
};

/** Loss of a central range that should hold `1 − alpha` of the outcomes: its width, and 2/alpha for each day outside. */
export const winkler = (low: number, high: number, alpha: number, actual: number): number =>
  high - low + (2 / alpha) * Math.max(0, low - actual, actual - high);

const logLikelihood = (hits: number, misses: number, share: number): number =>
  (hits > 0 ? hits * Math.log(share) : 0) + (misses > 0 ? misses * Math.log(1 - share) : 0);

/** Likelihood ratio of the observed against the claimed share of hits; above 3.841 the claim is rejected at 5 %. */
export const kupiec = (hits: number, trials: number, share: number): number =>
  2 * (logLikelihood(hits, trials - hits, hits / trials) - logLikelihood(hits, trials - hits, share));

/** The value below which the given share of the weight lies. Shape: pairs of value and weight. */
export const weightedQuantile = (pairs: readonly (readonly [number, number])[], share: number): number => {
  const sorted = [...pairs].sort((a, b) => a[0] - b[0]);
  const total = sorted.reduce((sum, [, weight]) => sum + weight, 0);
  let sum = 0;
  for (const [value, weight] of sorted) {
    sum += weight;
    if (sum >= share * total - 1e-12) return value;
  }
  return Number.NaN;
};
