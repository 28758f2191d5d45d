/** Returns how often one of the first is above one of the second: the area under the curve. */
export function areaUnderCurve(above: readonly number[], below: readonly number[]): number {
  let won = 0;
  for (const a of above) for (const b of below) won += a > b ? 1 : a === b ? 0.5 : 0;
  return won / (above.length * below.length);
}

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}

/** Returns Spearman's rank correlation; ties share the mean of their ranks. */
export function rankCorrelation(a: readonly number[], b: readonly number[]): number {
  const [x, y] = [ranks(a), ranks(b)];
  const mean = (x.length - 1) / 2;
  let xy = 0;
  let xx = 0;
  let yy = 0;
  for (let i = 0; i < x.length; i += 1) {
    xy += (x[i]! - mean) * (y[i]! - mean);
    xx += (x[i]! - mean) ** 2;
    yy += (y[i]! - mean) ** 2;
  }
  return xy / Math.sqrt(xx * yy);
}

const ranks = (values: readonly number[]): number[] =>
  values.map(
    (value) =>
      values.filter((other) => other < value).length +
      (values.filter((other) => other === value).length - 1) / 2,
  );
