export const median = (figures: readonly number[]): number =>
  [...figures].sort((a, b) => a - b)[figures.length >> 1]!;

/** Returns what one run takes. Units: milliseconds. */
export async function timeOf(work: () => unknown): Promise<number> {
  const start = performance.now();
  await work();
  return performance.now() - start;
}

/** Returns what one run takes of the processor, which other work on the machine hardly changes. Units: milliseconds. */
export async function processorOf(work: () => unknown): Promise<number> {
  const before = process.cpuUsage();
  await work();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1000;
}

/** Returns the median of so many runs after some that warm up; `work` is told which it is. Units: milliseconds. */
export async function timed(
  runs: number,
  work: (run: number) => unknown,
  warmUps = 1,
  of = timeOf,
): Promise<number> {
  const times: number[] = [];
  for (let run = 0; run < warmUps + runs; run += 1) {
    const ms = await of(() => work(run));
    if (run >= warmUps) times.push(ms);
  }
  return median(times);
}

/**
 * Returns the medians of two works, done in turn and by the processor's time, so that what else the machine does weighs on
 * both alike. Units: milliseconds.
 */
export async function inTurns(
  runs: number,
  ours: () => unknown,
  other: () => unknown,
  warmUps = Math.min(25, 3 * runs),
): Promise<[ours: number, other: number]> {
  const times: [number[], number[]] = [[], []];
  for (let run = -warmUps; run < runs; run += 1)
    for (const [i, work] of [ours, other].entries()) {
      const ms = await processorOf(work);
      if (run >= 0) times[i]!.push(ms);
    }
  return [median(times[0]), median(times[1])];
}
