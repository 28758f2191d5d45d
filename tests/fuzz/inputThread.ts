/** Tries a stretch of inputs and tells how it goes: on a board which one is being tried, by messages what was found. */
import { parentPort, workerData } from 'node:worker_threads';
import { KINDS, Trial } from './tryInput.js';

export interface Stretch {
  readonly seed: string;
  readonly from: number;
  readonly to: number;
  /** The number of the input that is being tried, and how many were tried. */
  readonly board: Int32Array;
}

export interface Told {
  readonly fault?: { readonly index: number; readonly message: string };
  readonly sums?: Sums;
}

/** Of each kind: inputs, those that came through, and the longest. Units: milliseconds, bytes. */
export interface Sums {
  readonly kinds: Readonly<Record<string, { inputs: number; came: number; longestMs: number }>>;
  readonly highestRss: number;
}

const { seed, from, to, board } = workerData as Stretch;
const port = parentPort!;
const trial = new Trial();
const kinds = Object.fromEntries(KINDS.map((kind) => [kind, { inputs: 0, came: 0, longestMs: 0 }]));
let highestRss = 0;
for (let index = from; index < to; index += 1) {
  Atomics.store(board, 0, index);
  const began = performance.now();
  try {
    const { kind, came } = await trial.try(seed, index);
    const sum = kinds[kind]!;
    sum.inputs += 1;
    if (came) sum.came += 1;
    sum.longestMs = Math.max(sum.longestMs, performance.now() - began);
  } catch (error) {
    const message = error instanceof Error ? (error.stack ?? error.message) : String(error);
    port.postMessage({ fault: { index, message } } satisfies Told);
  }
  Atomics.add(board, 1, 1);
  if (index % 50 === 0) highestRss = Math.max(highestRss, process.memoryUsage.rss());
}
await trial.close();
port.postMessage({ sums: { kinds, highestRss } } satisfies Told);
