import type { Worker } from 'node:worker_threads';
import { ServiceError } from '../../errors.js';
import { startThread } from '../../ownThread.js';
import type { FileMember, RideReader } from '../../ports/reader.js';

/** What is asked of the thread, by the number of its question; an opened file goes by the number of its opening. */
export type UnpackRequest =
  | { readonly id: number; readonly do: 'whole'; readonly path: string }
  | { readonly id: number; readonly do: 'open'; readonly from: string; readonly name: string }
  | { readonly id: number; readonly do: 'next' | 'close'; readonly opened: number };

export type UnpackAnswer = { readonly id: number } & (
  | { readonly whole: boolean }
  | { readonly member: FileMember | null }
  | { readonly fault: UnpackFault }
);

export interface UnpackFault {
  readonly message: string;
  /** Of the disk: what the system said, and of which file, for a log that leaves its name out. */
  readonly disk: { readonly code: string; readonly path: string } | null;
}

export interface UnpackThread extends Pick<RideReader, 'open' | 'isWhole'> {
  close(): Promise<void>;
}

/** Bytes lie outside, and are bounded by the limits of archives. */
const MOST_HEAP_MB = 64;

type Unnumbered<R = UnpackRequest> = R extends UnpackRequest ? Omit<R, 'id'> : never;

interface OpenQuestion {
  /** The file that it is about. */
  readonly of: string;
  readonly answered: (answer: UnpackAnswer) => void;
  readonly failed: (error: unknown) => void;
}

/** Who was beside so many breaks of the thread is at fault for them; who was there alone at once. */
const MOST_BREAKS = 3;
const MOST_REMEMBERED = 1000;

/**
 * Returns what looks into files and archives in a thread of its own, so that nobody waits for it; a member is unpacked only
 * when it is asked for. A thread that breaks fails what was asked of it, and the next question gets another; whoever
 * may not have broken it is asked to come again.
 * Errors: ServiceError `refused` for those.
 */
export function unpackThread(script: URL): UnpackThread {
  let thread: Worker | null = null;
  let count = 0;
  const open = new Map<number, OpenQuestion>();

  const breaks = new Map<string, number>();
  const broke = (why: string): void => {
    const lost = [...open.values()];
    open.clear();
    thread = null;
    const files = new Set(lost.map(({ of }) => of));
    if (breaks.size > MOST_REMEMBERED) breaks.clear();
    for (const of of files) breaks.set(of, (breaks.get(of) ?? 0) + 1);
    const atFault = [...files].filter((of) => files.size === 1 || breaks.get(of)! >= MOST_BREAKS);
    for (const of of atFault) breaks.delete(of);
    for (const { of, failed } of lost) failed(atFault.includes(of) ? new Error(why) : beside());
  };

  const start = (): Worker => {
    const started = startThread(script, { resourceLimits: { maxOldGenerationSizeMb: MOST_HEAP_MB } });
    started.on('message', (answer: UnpackAnswer) => {
      const question = open.get(answer.id);
      open.delete(answer.id);
      if (open.size === 0) started.unref();
      question?.answered(answer);
    });
    started.on('error', (error) => thread === started && broke(error.message));
    started.on('exit', () => thread === started && broke('The thread that opens files ended.'));
    return started;
  };

  const ask = (of: string, asked: Unnumbered): Promise<UnpackAnswer> =>
    new Promise((answered, failed) => {
      thread ??= start();
      const id = ++count;
      open.set(id, { of, answered, failed });
      thread.ref();
      thread.postMessage({ ...asked, id });
    });

  async function* members(from: string, name: string): AsyncGenerator<FileMember> {
    const opened = await ask(from, { do: 'open', from, name });
    const by = thread;
    try {
      for (;;) {
        const answer = sound(await ask(from, { do: 'next', opened: opened.id }));
        if (!('member' in answer) || answer.member === null) return;
        yield answer.member;
      }
    } finally {
      if (thread === by) await ask(from, { do: 'close', opened: opened.id });
    }
  }

  return {
    open: members,
    isWhole: async (path) => {
      const answer = sound(await ask(path, { do: 'whole', path }));
      return 'whole' in answer && answer.whole;
    },
    close: async () => {
      const ended = thread;
      thread = null;
      const lost = [...open.values()];
      open.clear();
      await ended?.terminate();
      for (const { failed } of lost)
        failed(new ServiceError('refused', 'The program ends; it is read by the next start.'));
    },
  };
}

const beside = (): ServiceError =>
  new ServiceError('refused', 'Another file broke what opens files; this one is tried again.');

/** Errors: ServiceError `disk-failed` where the disk and not the file is at fault. */
function sound(answer: UnpackAnswer): UnpackAnswer {
  if (!('fault' in answer)) return answer;
  const { message, disk } = answer.fault;
  if (disk === null) throw new Error(message);
  throw new ServiceError('disk-failed', message, { cause: Object.assign(new Error(message), disk) });
}
