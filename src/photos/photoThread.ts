import type { Worker } from 'node:worker_threads';
import type { PhotoFault } from '../core/tokens.js';
import { startThread } from '../ownThread.js';
import type { MadePhoto, PhotoMaker } from '../ports/originals.js';

/** Longer than the thread gives itself, which cannot be relied on. */
const LONGEST_MS = 20_000;
const MOST_HEAP_MB = 96;
/** So many wait while one is made; each may be large. */
const MOST_WAITING = 6;

/**
 * Returns what makes photographs in a thread of its own, one at a time: a picture that hangs or breaks it ends the thread
 * alone. An idle thread keeps no program from ending.
 */
export function photoThread(
  script: URL,
  { longestMs = LONGEST_MS }: { readonly longestMs?: number } = {},
): PhotoMaker & { close(): Promise<void> } {
  let thread: Worker | null = null;
  let isClosed = false;
  let waiting = 0;
  let last: Promise<unknown> = Promise.resolve();

  const start = (): Worker => {
    const started = startThread(script, { resourceLimits: { maxOldGenerationSizeMb: MOST_HEAP_MB } });
    // One that breaks while it is being ended must not break the program.
    started.on('error', () => undefined);
    return started;
  };

  const makeNext = async (bytes: Uint8Array): Promise<MadePhoto | PhotoFault> => {
    if (isClosed) return 'busy';
    thread ??= start();
    const made = await answerOf(thread, bytes, longestMs);
    if (made === 'ended' || made === 'late') {
      await thread.terminate();
      thread = null;
      return made === 'late' ? 'too-slow' : 'broken';
    }
    thread.unref();
    return made;
  };

  return {
    make: async (bytes) => {
      if (waiting >= MOST_WAITING) return 'busy';
      waiting += 1;
      const next = last.then(() => makeNext(bytes));
      last = next.catch(() => undefined);
      return next.finally(() => {
        waiting -= 1;
      });
    },
    close: async () => {
      isClosed = true;
      await thread?.terminate();
      await last;
    },
  };
}

type ThreadSaid = MadePhoto | PhotoFault | 'ended' | 'late';

function answerOf(thread: Worker, bytes: Uint8Array, longestMs: number): Promise<ThreadSaid> {
  return new Promise((resolve) => {
    const settle = (answer: ThreadSaid): void => {
      clearTimeout(late);
      thread.off('message', settle).off('error', onEnd).off('exit', onEnd);
      resolve(answer);
    };
    const onEnd = (): void => settle('ended');
    const late = setTimeout(() => settle('late'), longestMs);
    thread.on('message', settle).on('error', onEnd).on('exit', onEnd);
    thread.ref();
    thread.postMessage(bytes);
  });
}
