export const median = (figures: readonly number[]): number =>
  [...figures].sort((a, b) => a - b)[figures.length >> 1]!;

/** Returns what one run takes. Units: milliseconds. */
export async function timeOf(work: () => unknown): Promise<number> {
  const start = performance.now();
  await work();
  return performance.now() - start;
}

/** Returns the median of so many runs after some that warm up; `work` is told which it is. Units: milliseconds. */
export async function timed(runs: number, work: (run: number) => unknown, warmUps = 1): Promise<number> {
  const times: number[] = [];
  for (let run = 0; run < warmUps + runs; run += 1) {
    const ms = await timeOf(() => work(run));
    if (run >= warmUps) times.push(ms);
  }
  return median(times);
}
