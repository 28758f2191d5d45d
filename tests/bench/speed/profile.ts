/** Where the time of a work goes, by the part of the program that it is spent in. */
import { Session } from 'node:inspector/promises';

/** The first that a frame's address holds names its part. */
const PARTS = [
  ['/node_modules/saxes/', 'saxes'],
  ['/node_modules/fit-file-parser/', 'fit-file-parser'],
  ['/src/files/', 'our readers'],
  ['/src/core/', 'the core'],
] as const;

/** Not of the work: the profiler's own begin and end, and waiting. */
const OUTSIDE = new Set(['(program)', '(idle)', '(root)']);

const partOf = (url: string, name: string): string =>
  name === '(garbage collector)'
    ? 'clearing memory'
    : (PARTS.find(([path]) => url.includes(path))?.[1] ?? 'the rest');

/** Returns each part's share of the time, the largest first. */
export async function sharesOf(work: () => unknown): Promise<[part: string, share: number][]> {
  const session = new Session();
  session.connect();
  await session.post('Profiler.enable');
  await session.post('Profiler.start');
  await work();
  const { profile } = await session.post('Profiler.stop');
  session.disconnect();
  const parts = new Map(
    profile.nodes
      .filter(({ callFrame }) => !OUTSIDE.has(callFrame.functionName))
      .map(({ id, callFrame }) => [id, partOf(callFrame.url, callFrame.functionName)]),
  );
  const times = new Map<string, number>();
  let all = 0;
  for (const [i, id] of (profile.samples ?? []).entries()) {
    const part = parts.get(id);
    if (part === undefined) continue;
    const micros = profile.timeDeltas?.[i] ?? 0;
    times.set(part, (times.get(part) ?? 0) + micros);
    all += micros;
  }
  return [...times]
    .map(([part, micros]): [string, number] => [part, micros / all])
    .sort((a, b) => b[1] - a[1]);
}
