import { ServiceError } from '../../errors.js';
import type { InboxFile, InboxRow } from '../../ports/inbox.js';
import type { Turn } from '../../ports/loops.js';
import { type Instant, MINUTE_MS } from '../../units.js';
import { type FolderMeaning, sayingOf } from './folderMeaning.js';
import type { FolderTurns } from './folderTurns.js';
import type { Taken } from './ingestFile.js';
import { logTaken } from './logTaken.js';
import { pathTold } from './pathTold.js';
import { takePath } from './takePath.js';
import { folderOf, putRow, type ScanDeps, tellRider } from './tellFolder.js';

/** A file that is not whole by its own format is taken as damaged once it stood still for so long. */
const STILL_MS = 5 * MINUTE_MS;
/** One that was replaced again and again is taken once it stood still for so long. */
const RESTLESS_MS = MINUTE_MS;
/** It is replaced again and again, and taken once it stands still for a minute. */
const RESTLESS = 'restless';
/** Whoever waits for many files is told after each so many of them. */
const TOLD_EACH = 200;

/** What the drop folder says of a file now, and what was said of it before. */
export interface Found {
  readonly file: InboxFile;
  readonly meaning: FolderMeaning;
  readonly meaningOf: (path: string) => FolderMeaning;
  readonly stamp: string;
  readonly row: InboxRow | undefined;
}

/** What a look came to; `more` where an archive waits for its rider's next turn. */
export type LookOutcome = 'nothing' | 'news' | 'more';

/** Another whenever the content, or what the folder means, may be another. */
export const stampOf = (file: InboxFile, { riderId, bikeId, rule }: FolderMeaning): string =>
  [file.bytes, file.modifiedMs, file.changedMs, riderId, bikeId, rule].join(' ');

/** Whether there is nothing to do about a file: it is done, or it failed and is unchanged. */
export const isDone = ({ file, stamp, row }: Found, turns: FolderTurns): boolean =>
  row?.stamp === stamp && (row.settled || turns.isResting(`${file.path} ${stamp}`));

/** Takes a file where it is ready, and writes down what became of it. */
export async function lookAtFile(
  deps: ScanDeps,
  found: Found,
  { turn, turns, now }: { readonly turn: Turn; readonly turns: FolderTurns; readonly now: Instant },
): Promise<LookOutcome> {
  const { file, meaning, stamp, row } = found;
  const isSame = row?.stamp === stamp;
  // A clock that was put back must not make a file wait for it.
  const seenAt = isSame && row.seenAt <= now ? row.seenAt : now;
  const { path, bytes, modifiedMs } = file;
  const at = { path, bytes, modifiedMs, stamp };
  const waiting: InboxRow = { ...at, seenAt, settled: false, outcome: null, code: null, said: null };
  const stillMs = now - seenAt;
  if (turns.isRestless(path) && stillMs < RESTLESS_MS) {
    if (!isSame) await putRow(deps, { ...waiting, code: RESTLESS });
    return row?.code === RESTLESS ? 'nothing' : 'news';
  }
  const began = performance.now();
  try {
    if (stillMs >= STILL_MS || (await isWhole(deps, found))) {
      const sayOn = async (soFar: number): Promise<void> => {
        await putRow(deps, { ...waiting, outcome: 'archive', said: { filesRead: soFar } });
      };
      const onWay = async (soFar: number): Promise<void> => {
        await sayOn(soFar);
        await tellRider(deps, folderOf(path), now);
      };
      const taken = await takeSome(deps, found, { turn, turns, onWay });
      if (taken.isMore) {
        await sayOn(taken.taken.length);
        return 'more';
      }
      turns.took(path);
      const ms = performance.now() - began;
      await logTaken(deps, taken.taken, { riderId: meaning.riderId, ms });
      const told = pathTold(taken.taken, meaning.stray);
      await putRow(deps, { ...at, seenAt: now, settled: true, ...told });
      return 'news';
    }
  } catch (error) {
    await turns.close(path);
    // What was broken off because the program ends is taken up by the next start.
    if (turn.signal.aborted) throw error;
    return sayFault(deps, waiting, { error, row, turns });
  }
  if (!isSame || row.seenAt !== seenAt) await putRow(deps, waiting);
  // One that grows is told of once.
  return row === undefined ? 'news' : 'nothing';
}

/** What was not whole when it was looked at last is not whole now, unchanged as it is. */
async function isWhole(deps: ScanDeps, { file, stamp, row }: Found): Promise<boolean> {
  const isKnown = row?.stamp === stamp && row.outcome === null && row.code === null;
  return !isKnown && deps.reader.isWhole(file.at);
}

async function sayFault(
  deps: ScanDeps,
  waiting: InboxRow,
  {
    error,
    row,
    turns,
  }: { readonly error: unknown; readonly row: InboxRow | undefined; readonly turns: FolderTurns },
): Promise<LookOutcome> {
  const code = faultCode(error);
  // Unlike a disk or a store, a fault of the program's own does not mend itself.
  if (!(error instanceof ServiceError)) turns.failed(`${waiting.path} ${waiting.stamp}`);
  const isNews = row?.code !== code;
  if (isNews) deps.log.error({ code, error }, 'a file could not be taken and is tried again');
  await putRow(deps, { ...waiting, code });
  return isNews ? 'news' : 'nothing';
}

/** One file that fails must not hold up the others; a store that fails does, for then this cannot be said either. */
const faultCode = (error: unknown): 'disk-failed' | 'fault' =>
  error instanceof ServiceError && error.code === 'disk-failed' ? 'disk-failed' : 'fault';

/** Takes what is in a file until its turn is over; the next turn goes on where this one ended. */
async function takeSome(
  deps: ScanDeps,
  { file: { at: path, path: name }, meaningOf, stamp }: Found,
  {
    turn,
    turns,
    onWay,
  }: { readonly turn: Turn; readonly turns: FolderTurns; readonly onWay: (soFar: number) => Promise<void> },
): Promise<{ readonly taken: readonly Taken[]; readonly isMore: boolean }> {
  const open = turns.takeOpen(name, stamp) ?? {
    stamp,
    members: takePath(deps, {
      path,
      name,
      howOf: (member) => ({ ...sayingOf(meaningOf, member), way: 'folder' }),
    }),
    taken: [],
  };
  turns.keepOpen(name, open);
  turn.doing('reading files of the drop folder');
  for (let one = await open.members.next(); !one.done; one = await open.members.next()) {
    open.taken.push(one.value);
    if (open.taken.length % TOLD_EACH === 0) await onWay(open.taken.length);
    // What came under the file's own name is the whole of it: nothing of it is left for another turn.
    if (turn.isOver() && one.value.file !== name) return { taken: open.taken, isMore: true };
  }
  await turns.close(name);
  return { taken: open.taken, isMore: false };
}
