import type { DecoderState } from '../../ports/loops.js';
import type { Decoded, DecodeFile } from '../../ports/reader.js';
import { type Instant, secondsIn } from '../../units.js';
import { BROKE, type DecodeThread } from './decodeThread.js';

/** Whose last file took so long is read one file at a time, so that a thread is left for everybody else. */
const SLOW_MS = 3000;
/** Of files so large one is read at a time, or two of them would fill the memory. */
const LARGE_BYTES = 8 * 1024 * 1024;

const MOST_REMEMBERED = 1000;

interface DecodeJob {
  readonly file: DecodeFile;
  readonly now: Instant;
  readonly owner: string;
  readonly isLarge: boolean;
  readonly done: (decoded: Decoded) => void;
  readonly failed: (error: unknown) => void;
  beganAt?: number;
}

export interface DecodePool extends DecodeThread {
  state(): DecoderState;
}

/**
 * Returns so many decoders as one. The next file is one of whoever has the fewest in hand, and of these of whoever had
 * none for longest. The first decoder has them all while files come one by one.
 */
export function decodePool(size: number, make: () => DecodeThread): DecodePool {
  const threads = Array.from({ length: size }, () => ({ thread: make(), isFree: true }));
  const waiting: DecodeJob[] = [];
  const inHand: DecodeJob[] = [];
  const slow = new Set<string>();
  /** Whose turn was when, of those who were there lately. */
  const served = new Map<string, number>();
  let turn = 0;
  let brokeInARow = 0;

  const countOf = (owner: string): number => inHand.filter((job) => job.owner === owner).length;
  const mayBegin = (job: DecodeJob): boolean =>
    !(slow.has(job.owner) && countOf(job.owner) > 0) &&
    !(job.isLarge && inHand.some(({ isLarge }) => isLarge));

  const isBefore = (a: DecodeJob, b: DecodeJob): boolean => {
    const [inHandOfA, inHandOfB] = [countOf(a.owner), countOf(b.owner)];
    if (inHandOfA !== inHandOfB) return inHandOfA < inHandOfB;
    return (served.get(a.owner) ?? 0) < (served.get(b.owner) ?? 0);
  };
  const next = (): DecodeJob | undefined =>
    waiting
      .filter(mayBegin)
      .reduce<DecodeJob | undefined>(
        (first, job) => (first && !isBefore(job, first) ? first : job),
        undefined,
      );

  const run = async (place: (typeof threads)[number], job: DecodeJob): Promise<void> => {
    const began = performance.now();
    job.beganAt = began;
    try {
      const decoded = await place.thread.decode(job.file, job.now);
      brokeInARow = decoded.problem?.message === BROKE ? brokeInARow + 1 : 0;
      job.done(decoded);
    } catch (error) {
      job.failed(error);
    }
    const tookMs = performance.now() - began;
    job.file.took?.(tookMs);
    if (tookMs > SLOW_MS) slow.add(job.owner);
    else slow.delete(job.owner);
    place.isFree = true;
    inHand.splice(inHand.indexOf(job), 1);
    begin();
  };

  const begin = (): void => {
    for (;;) {
      const place = threads.find(({ isFree }) => isFree);
      const job = place === undefined ? undefined : next();
      if (place === undefined || job === undefined) return;
      waiting.splice(waiting.indexOf(job), 1);
      inHand.push(job);
      if (served.size >= MOST_REMEMBERED) served.clear();
      served.set(job.owner, ++turn);
      place.isFree = false;
      void run(place, job);
    }
  };

  return {
    decode: (file, now) =>
      new Promise((done, failed) => {
        const isLarge = file.bytes.length > LARGE_BYTES;
        waiting.push({ file, now, owner: file.owner ?? '', isLarge, done, failed });
        begin();
      }),
    state: () => {
      const oldest = inHand[0]?.beganAt;
      return {
        inHandS: oldest === undefined ? null : secondsIn(performance.now() - oldest),
        brokeInARow,
      };
    },
    close: async () => {
      await Promise.all(threads.map(({ thread }) => thread.close()));
    },
  };
}
