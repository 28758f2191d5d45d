import type { Worker } from 'node:worker_threads';
import { ServiceError } from '../../errors.js';
import { startThread } from '../../ownThread.js';
import type { Decoded, DecodeFile, RideReader } from '../../ports/reader.js';
import { problem } from '../../problems.js';
import type { Instant } from '../../units.js';
import type { FileInHand } from './readInHand.js';

/** What is asked of the thread: a file, and the time that its clock is compared with. Its answer is a `Decoded`. */
export interface DecodeRequest {
  readonly file: Pick<DecodeFile, 'placeKey'> & FileInHand;
  readonly now: Instant;
}

export interface DecodeThread extends Pick<RideReader, 'decode'> {
  close(): Promise<void>;
}

/** A day's ride takes a second on a slow machine. */
const LONGEST_MS = 20_000;
/** A large file takes a tenth of this; a machine that is busy must not set it aside. Units: milliseconds a byte. */
const MORE_MS = 0.001;
/** Of objects; columns lie outside, and are bounded by the readers. The largest file that is read took 60 MB. */
const MOST_HEAP_MB = 128;
const YOUNG_HEAP_MB = 16;
/** After so large a file a thread is let go of, with what it would hold until it needs memory again. */
const LARGE_BYTES = 4 * 1024 * 1024;

const TOO_LONG =
  'Reading it took too long, so it was given up. Export the ride again, or enter its hours by hand.';
const TOO_MUCH =
  'Reading it took more memory than any ride needs, so it was given up. Export the ride again, or enter its hours by hand.';
/** Said of a file at which the thread ended by itself. */
export const BROKE = 'It could not be read, by a fault of this program. Enter its hours by hand.';

const ended = (): ServiceError =>
  new ServiceError('refused', 'The program ends; the file is read by the next start.');

/**
 * Returns a decoder in a thread of its own, one file at a time: a file that hangs it, breaks it or fills its memory ends
 * the thread and is set aside, and the next file gets another. An idle thread keeps no program from ending.
 * Errors: ServiceError `refused` for what is under way when it is closed.
 */
export function decodeThread(
  script: URL,
  { longestMs = LONGEST_MS, heapMb = MOST_HEAP_MB }: { longestMs?: number; heapMb?: number } = {},
): DecodeThread {
  let idle: Worker | null = null;
  let busy: Worker | null = null;
  let isClosed = false;
  let last: Promise<unknown> = Promise.resolve();

  const start = (): Worker => {
    const thread = startThread(script, {
      resourceLimits: { maxOldGenerationSizeMb: heapMb, maxYoungGenerationSizeMb: YOUNG_HEAP_MB },
    });
    // A thread that breaks while it is being ended must not break the program.
    thread.on('error', () => undefined);
    return thread;
  };

  const decodeNext = async (request: DecodeRequest): Promise<Decoded> => {
    if (isClosed) throw ended();
    const thread = idle ?? start();
    idle = null;
    busy = thread;
    const isLarge = request.file.bytes.length > LARGE_BYTES;
    const decoded = await answerOf(thread, request, longestMs);
    busy = null;
    // What the thread's end broke off says nothing of the file.
    if (isClosed) throw ended();
    if (typeof decoded !== 'string' && !isLarge) {
      thread.unref();
      idle = thread;
      return decoded;
    }
    await thread.terminate();
    if (typeof decoded !== 'string') return decoded;
    return { readings: [], outcome: 'set-aside', problem: problem('unreadable', decoded, request.file.name) };
  };

  return {
    decode: ({ name, bytes, placeKey }, now) => {
      const file = { name, bytes, ...(placeKey !== undefined && { placeKey }) };
      const next = last.then(() => decodeNext({ file, now }));
      last = next.catch(() => undefined);
      return next;
    },
    close: async () => {
      isClosed = true;
      await Promise.all([busy?.terminate(), idle?.terminate()]);
      await last;
      idle = null;
    },
  };
}

/** Returns what the thread answers, or in words why it never will. */
function answerOf(thread: Worker, request: DecodeRequest, longestMs: number): Promise<Decoded | string> {
  return new Promise((resolve) => {
    const settle = (answer: Decoded | string): void => {
      clearTimeout(late);
      thread.off('message', settle).off('error', onError).off('exit', onExit);
      resolve(answer);
    };
    const onError = (error: NodeJS.ErrnoException | null): void =>
      settle(error?.code === 'ERR_WORKER_OUT_OF_MEMORY' ? TOO_MUCH : BROKE);
    const onExit = (): void => settle(BROKE);
    const late = setTimeout(() => settle(TOO_LONG), longestMs + request.file.bytes.length * MORE_MS);
    thread.on('message', settle).on('error', onError).on('exit', onExit);
    thread.ref();
    thread.postMessage(request, movable(request.file.bytes));
  });
}

/** A large file's bytes are handed over whole, so that they are in memory once. */
const movable = (bytes: Uint8Array): ArrayBuffer[] =>
  bytes.length > LARGE_BYTES &&
  bytes.buffer instanceof ArrayBuffer &&
  bytes.length === bytes.buffer.byteLength
    ? [bytes.buffer]
    : [];
