export const median = (figures: readonly number[]): number =>
  [...figures].sort((a, b) => a - b)[figures.length >> 1]!;

/** Returns the median of so many runs after one that warms up. Units: milliseconds. */
export async function timed(runs: number, work: (run: number) => unknown): Promise<number> {
  const times: number[] = [];
  for (let run = -1; run < runs; run += 1) {
    const start = performance.now();
    await work(run);
    if (run >= 0) times.push(performance.now() - start);
  }
  return median(times);
}
