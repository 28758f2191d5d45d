/** A value with how much it counts. */
export interface Weighed {
  readonly value: number;
  readonly weight: number;
}

/**
 * Returns the rising values that come nearest to the given ones in weighed squares: neighbours that fall are pooled to
 * their mean until none does.
 * Source: pool adjacent violators (Barlow, Bartholomew, Bremner and Brunk 1972, chapter 1; from memory).
 */
export function isotonic(values: readonly Weighed[]): number[] {
  const pools: { sum: number; weight: number; count: number }[] = [];
  for (const { value, weight } of values) {
    let pool = { sum: value * weight, weight, count: 1 };
    for (
      let last = pools.at(-1);
      last && last.sum * pool.weight >= pool.sum * last.weight;
      last = pools.at(-1)
    ) {
      pool = { sum: last.sum + pool.sum, weight: last.weight + pool.weight, count: last.count + pool.count };
      pools.pop();
    }
    pools.push(pool);
  }
  return pools.flatMap(({ sum, weight, count }) => Array<number>(count).fill(sum / weight));
}
