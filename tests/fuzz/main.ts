/** `npm run fuzz -- N [--seed TEXT] [--only INDEX]`: tries N inputs; ends with 1 where any of them was a fault. */
import { writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { Worker } from 'node:worker_threads';
import type { Sums, Told } from './inputThread.js';
import { bytesOf, kindOf, Trial } from './tryInput.js';

/** Of processor time, which a busy machine does not stretch; what stands still without any is given a minute. */
const LONGEST_MS = 5000;
const LONGEST_STILL_MS = 60_000;
const HEAP_MB = 256;
/** Of the whole process: the heap, buffers outside it, the database and the program itself. */
const MOST_RSS_BYTES = 800_000_000;
/** A thread is ended and begun again after so many, so that nothing can grow unseen behind another. */
const INPUTS_A_THREAD = 20_000;

interface Fault {
  readonly index: number;
  readonly message: string;
}

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { seed: { type: 'string', default: 'one' }, only: { type: 'string' }, save: { type: 'string' } },
});
const { seed } = values;

if (values.only !== undefined) await tryOnly(Number(values.only));
else await tryMany(Number(positionals[0] ?? 10_000));

/** Tries one input again, here, where a debugger sees it; `--save FILE` writes it down. */
async function tryOnly(index: number): Promise<void> {
  const bytes = bytesOf(seed, index);
  if (values.save !== undefined && bytes) writeFileSync(values.save, bytes);
  const trial = new Trial();
  const tried = await trial.try(seed, index);
  await trial.close();
  process.stdout.write(
    `${kindOf(seed, index)} ${index}: ${tried.came ? 'came through' : 'refused in words'}\n`,
  );
}

function note(faults: Fault[], fault: Fault): void {
  faults.push(fault);
  process.stderr.write(`${kindOf(seed, fault.index)} ${fault.index}: ${fault.message}\n`);
}

async function tryMany(count: number): Promise<void> {
  const began = performance.now();
  const faults: Fault[] = [];
  const kinds: Record<string, { inputs: number; came: number; longestMs: number }> = {};
  let highestRss = 0;
  for (let from = 0; from < count; ) {
    const to = Math.min(count, from + INPUTS_A_THREAD);
    const ended = await tryStretch(from, to, faults);
    for (const [kind, sum] of Object.entries(ended.sums?.kinds ?? {})) {
      const all = kinds[kind] ?? { inputs: 0, came: 0, longestMs: 0 };
      kinds[kind] = all;
      all.inputs += sum.inputs;
      all.came += sum.came;
      all.longestMs = Math.max(all.longestMs, Math.round(sum.longestMs));
    }
    highestRss = Math.max(highestRss, ended.sums?.highestRss ?? 0);
    from = ended.next;
    process.stderr.write(
      `${from} of ${count}, ${faults.length} faults, ${Math.round(highestRss / 1e6)} MB\n`,
    );
  }
  if (highestRss > MOST_RSS_BYTES)
    faults.push({ index: -1, message: `memory ${Math.round(highestRss / 1e6)} MB` });
  const seconds = Math.round((performance.now() - began) / 1000);
  const figures = { seed, inputs: count, seconds, highestMb: Math.round(highestRss / 1e6), kinds, faults };
  process.stdout.write(`${JSON.stringify(figures)}\n`);
  process.exitCode = faults.length > 0 ? 1 : 0;
}

/** Of the whole process, which does nothing else than try. Units: milliseconds. */
function used(): { readonly busyMs: number; readonly wallMs: number } {
  const { user, system } = process.cpuUsage();
  return { busyMs: (user + system) / 1000, wallMs: performance.now() };
}

/** A thread that hangs is ended, one that runs out of memory has ended; the next begins behind that input. */
function tryStretch(
  from: number,
  to: number,
  faults: Fault[],
): Promise<{ readonly next: number; readonly sums?: Sums }> {
  const board = new Int32Array(new SharedArrayBuffer(8));
  board[0] = from;
  const thread = new Worker(new URL('./inputThread.js', import.meta.url), {
    workerData: { seed, from, to, board },
    resourceLimits: { maxOldGenerationSizeMb: HEAP_MB },
  });
  return new Promise((resolve) => {
    let sums: Sums | undefined;
    let seen = -1;
    let since = used();
    const end = (message?: string): void => {
      clearInterval(watch);
      const index = Atomics.load(board, 0);
      if (message !== undefined) note(faults, { index, message });
      resolve(sums ? { next: to, sums } : { next: index + 1 });
    };
    const watch = setInterval(() => {
      const done = Atomics.load(board, 1);
      if (done !== seen) {
        seen = done;
        since = used();
        return;
      }
      const { busyMs, wallMs } = used();
      if (busyMs - since.busyMs > LONGEST_MS || wallMs - since.wallMs > LONGEST_STILL_MS) {
        thread.removeAllListeners();
        void thread.terminate().then(() => end(`no end after ${LONGEST_MS} ms`));
      }
    }, 250);
    thread.on('message', (told: Told) => {
      if (told.fault) note(faults, told.fault);
      if (told.sums) sums = told.sums;
    });
    let fatal: string | undefined;
    thread.on('error', (error) => {
      fatal = error.stack ?? error.message;
    });
    thread.on('exit', () => end(fatal ?? (sums ? undefined : 'the thread ended early')));
  });
}
