import { groupBy } from '../../core/groupBy.js';
import type { InboxFile, InboxRow } from '../../ports/inbox.js';
import type { Turn } from '../../ports/loops.js';
import { type Problem, problem } from '../../problems.js';
import type { Instant } from '../../units.js';
import { WHOLE_TURN } from '../turn.js';
import { openFolderMeanings } from './folderMeaning.js';
import { FolderTurns } from './folderTurns.js';
import { type Found, isDone, lookAtFile, stampOf } from './lookAtFile.js';
import { folderOf, NOT_TOLD, type ScanDeps, sayProblem, tellRider } from './tellFolder.js';

export type { ScanDeps } from './tellFolder.js';

/** A rider's share of one turn; a file that is begun is read to its end. Units: milliseconds. */
const RIDER_TURN_MS = 3000;
/** So many riders' files are in hand at a time: a slow one holds up none of the others. */
const RIDERS_AT_ONCE = 3;
/** Whoever waits for many files is told after each so many of them. */
const TOLD_EACH = 200;

/** Of the drop folder itself, which is said of its own path. */
const ROOT = '';
const ROOT_GONE = {
  missing:
    'The drop folder is not there. Is its disk connected, or was it renamed? Nothing that was counted is lost.',
  empty: 'The drop folder is empty, and was not. Is its disk connected? Nothing that was counted is lost.',
} as const;

/** What one turn came to. */
export interface Scanned {
  /** Something became of a file. */
  readonly isNews: boolean;
  /** Files wait for their rider's next turn. */
  readonly isMore: boolean;
  /** How many of them are still to be looked at. */
  readonly left: number;
}

/**
 * Scans the whole drop folder once and takes what is ready, a share of the turn for each rider.
 *
 * A file is ready when
 * - it is whole by its own format (FIT size and checksum, GPX closing tag, the directory of a zip), or
 * - it has stood still, in size and time, for five minutes: then it is taken as damaged or refused; and
 * - it is not being replaced again and again: then it must stand still for a minute.
 * A file that was taken is looked at again only when its size, its times or the meaning of its folder change. One that
 * cannot be read or kept is told of and tried again, and holds up no other. A drop folder that is gone says nothing of
 * the files that lay in it.
 */
export async function scanInboxOnce(
  deps: ScanDeps,
  turn: Turn = WHOLE_TURN,
  turns: FolderTurns = new FolderTurns(),
): Promise<Scanned> {
  const now = deps.clock.now();
  const { known, meaningOf } = await deps.store.read(async (tx) => ({
    known: new Map((await tx.inbox.list()).map((row) => [row.path, row])),
    meaningOf: await openFolderMeanings(tx),
  }));
  turn.doing('looking through the drop folder');
  const scanned = await deps.inbox.scan();
  if (typeof scanned === 'string') {
    await sayRootGone(deps, scanned, known, now);
    return { isNews: false, isMore: false, left: 0 };
  }
  const found = scanned.files.map((file): Found => {
    const meaning = meaningOf(file.path);
    return { file, meaning, meaningOf, stamp: stampOf(file, meaning), row: known.get(file.path) };
  });
  await turns.keepOnly(new Map(found.map(({ file, stamp }) => [file.path, stamp])));
  const untold = [...known.values()].filter((row) => row.code === NOT_TOLD);
  const changed = new Set<string>(untold.map((row) => folderOf(row.path)));
  const taken = await takeTurns(deps, found, { turn, turns, now, changed });
  let isNews = taken.isNews;
  for (const one of scanned.problems) {
    if (!(await sayProblem(deps, one, known.get(one.source), now))) continue;
    isNews = true;
    changed.add(folderOf(one.source));
  }
  await forgetGone(deps, known, scanned);
  for (const folder of changed) await tellRider(deps, folder, now);
  return { isNews, isMore: taken.isMore, left: taken.left };
}

interface Taking {
  readonly turn: Turn;
  readonly turns: FolderTurns;
  readonly now: Instant;
  /** Folders of which there is something to tell. */
  readonly changed: Set<string>;
}

/** Counts the files that are left, and says how many with each. */
interface Left {
  count: number;
}

/** Gives each rider's folder its share of the turn, some at once; whoever had none has the first of the next. */
async function takeTurns(deps: ScanDeps, found: readonly Found[], of: Taking): Promise<Scanned> {
  const { turn, turns } = of;
  const todo = groupBy(
    found.filter((one) => !isDone(one, turns)),
    ({ file }) => folderOf(file.path),
  );
  const left: Left = { count: [...todo.values()].flat().length };
  turn.doing('looking at files of the drop folder', left.count);
  let [isNews, isMore] = [false, false];
  const folders = turns.inTurn(todo.keys());
  const takeNext = async (): Promise<void> => {
    for (;;) {
      turns.next = folders[0] ?? '';
      if (turn.isOver()) isMore ||= folders.length > 0;
      const folder = turn.isOver() ? undefined : folders.shift();
      if (folder === undefined) return;
      const one = await takeShare(deps, todo.get(folder)!, of, left);
      isNews ||= one.isNews;
      isMore ||= one.isMore;
    }
  };
  const atOnce = turn === WHOLE_TURN ? 1 : RIDERS_AT_ONCE;
  const done = await Promise.allSettled(Array.from({ length: atOnce }, takeNext));
  for (const one of done) if (one.status === 'rejected') throw one.reason;
  return { isNews, isMore, left: left.count };
}

async function takeShare(
  deps: ScanDeps,
  found: readonly Found[],
  of: Taking,
  left: Left,
): Promise<Omit<Scanned, 'left'>> {
  const { turns, now, changed } = of;
  const turn = shareOf(of.turn);
  let [news, isMore] = [0, false];
  for (const one of found) {
    const looked = await lookAtFile(deps, one, { turn, turns, now });
    isMore ||= looked === 'more';
    if (looked !== 'more') left.count -= 1;
    of.turn.doing('looking at files of the drop folder', left.count);
    if (looked !== 'nothing') {
      news += 1;
      changed.add(folderOf(one.file.path));
      if (news % TOLD_EACH === 0) for (const folder of changed) await tellRider(deps, folder, now);
    }
    if (turn.isOver()) return { isNews: news > 0, isMore: isMore || one !== found.at(-1) };
  }
  return { isNews: news > 0, isMore };
}

/** A turn without an end, as a command has it, is not shared either. */
function shareOf(turn: Turn): Turn {
  if (turn === WHOLE_TURN) return turn;
  const began = performance.now();
  return { ...turn, isOver: () => turn.isOver() || performance.now() - began > RIDER_TURN_MS };
}

/** An empty folder that never held anything is no news. */
async function sayRootGone(
  deps: ScanDeps,
  how: keyof typeof ROOT_GONE,
  known: ReadonlyMap<string, InboxRow>,
  now: Instant,
): Promise<void> {
  const held = [...known.keys()].some((path) => path !== ROOT);
  if (how === 'missing' || held)
    await sayProblem(deps, problem(`folder-${how}`, ROOT_GONE[how], ROOT), known.get(ROOT), now);
}

/** What lies in a folder that cannot be read is not gone. */
async function forgetGone(
  deps: ScanDeps,
  known: ReadonlyMap<string, InboxRow>,
  { files, problems }: { readonly files: readonly InboxFile[]; readonly problems: readonly Problem[] },
): Promise<void> {
  const there = new Set([...files.map((file) => file.path), ...problems.map((one) => one.source)]);
  const isHidden = (path: string): boolean => problems.some(({ source }) => path.startsWith(`${source}/`));
  const gone = [...known.values()].filter(
    ({ path, code }) => !there.has(path) && !isHidden(path) && code !== NOT_TOLD,
  );
  if (gone.length > 0) await deps.store.write((tx) => tx.inbox.remove(gone.map((row) => row.path)));
}
