import { ServiceError } from '../../errors.js';
import type { Inbox, InboxFile, InboxRow } from '../../ports/inbox.js';
import { type Problem, problem } from '../../problems.js';
import { type Instant, MINUTE_MS } from '../../units.js';
import type { Deps } from '../deps.js';
import { type FolderMeaning, openFolderMeanings } from './folderMeaning.js';
import type { Taken } from './ingestFile.js';
import { takePath } from './takePath.js';
import { summaryOf, whatHappenedText, withStray } from './whatHappened.js';

/** A file that is not whole by its own format is taken as damaged once it stood still for so long. */
const STILL_MS = 5 * MINUTE_MS;
/** Whoever waits for many files is told after each so many of them. */
const TOLD_EACH = 200;

export interface ScanDeps extends Deps {
  readonly inbox: Inbox;
}

/** Of the drop folder itself, which is said of its own path. */
const ROOT = '';
const ROOT_GONE = {
  missing:
    'The drop folder is not there. Is its disk connected, or was it renamed? Nothing that was counted is lost.',
  empty: 'The drop folder is empty, and was not. Is its disk connected? Nothing that was counted is lost.',
} as const;

/**
 * Scans the whole drop folder once and takes what is ready; true when anything changed.
 *
 * A file is ready when
 * - it is whole by its own format (FIT size and checksum, GPX closing tag, the directory of a zip), or
 * - it has stood still, in size and time, for five minutes: then it is taken as damaged or refused.
 * A file that was taken is looked at again only when its size, its times or the meaning of its folder change. One that
 * cannot be read or kept is told of and tried again, and holds up no other. A drop folder that is gone says nothing of
 * the files that lay in it.
 */
export async function scanInboxOnce(deps: ScanDeps): Promise<boolean> {
  const now = deps.clock.now();
  const { known, meaningOf } = await deps.store.read(async (tx) => ({
    known: new Map((await tx.inbox.list()).map((row) => [row.path, row])),
    meaningOf: await openFolderMeanings(tx),
  }));
  const scanned = await deps.inbox.scan();
  if (typeof scanned === 'string') return sayRootGone(deps, scanned, known, now);
  const untold = [...known.values()].filter((row) => row.code === NOT_TOLD);
  const changed = new Set<string>(untold.map((row) => folderOf(row.path)));
  let news = 0;
  for (const file of scanned.files) {
    if (!(await look(deps, file, meaningOf(file.path), known.get(file.path), now))) continue;
    news += 1;
    changed.add(folderOf(file.path));
    if (news % TOLD_EACH === 0) for (const folder of changed) await tellRider(deps, folder, now);
  }
  for (const one of scanned.problems) {
    if (!(await sayProblem(deps, one, known.get(one.source), now))) continue;
    news += 1;
    changed.add(folderOf(one.source));
  }
  await forgetGone(deps, known, scanned);
  for (const folder of changed) await tellRider(deps, folder, now);
  return news > 0;
}

/** An empty folder that never held anything is no news. */
async function sayRootGone(
  deps: ScanDeps,
  how: keyof typeof ROOT_GONE,
  known: ReadonlyMap<string, InboxRow>,
  now: Instant,
): Promise<false> {
  const held = [...known.keys()].some((path) => path !== ROOT);
  if (how === 'missing' || held)
    await sayProblem(deps, problem(`folder-${how}`, ROOT_GONE[how], ROOT), known.get(ROOT), now);
  return false;
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

/** Returns whether there is something new to tell of the file. */
async function look(
  deps: ScanDeps,
  file: InboxFile,
  meaning: FolderMeaning,
  row: InboxRow | undefined,
  now: Instant,
): Promise<boolean> {
  const stamp = stampOf(file, meaning);
  const isSame = row?.stamp === stamp;
  if (isSame && row.settled) return false;
  // A clock that was put back must not make a file wait for it.
  const seenAt = isSame && row.seenAt <= now ? row.seenAt : now;
  const { path, bytes, modifiedMs } = file;
  const at = { path, bytes, modifiedMs, stamp };
  const waiting: InboxRow = { ...at, seenAt, settled: false, outcome: null, code: null, reason: null };
  try {
    if ((await deps.reader.isWhole(file.at)) || now - seenAt >= STILL_MS) {
      const taken = await take(deps, file, meaning, async (soFar) => {
        const reason = `${soFar} of its files are read so far; it goes on`;
        await put(deps, { ...waiting, outcome: 'archive', reason });
        await tellRider(deps, folderOf(path), now);
      });
      const summary = withStray(summaryOf(taken), meaning);
      await put(deps, { ...at, seenAt: now, settled: true, ...summary });
      return true;
    }
  } catch (error) {
    const cannot = whyNot(error);
    const isNews = row?.reason !== cannot.reason;
    if (isNews)
      deps.log.error(
        { code: cannot.code, error: error instanceof Error ? error.stack : String(error) },
        'a file could not be taken and is tried again',
      );
    await put(deps, { ...waiting, ...cannot });
    return isNews;
  }
  if (!isSame || row.seenAt !== seenAt) await put(deps, waiting);
  // One that grows is told of once.
  return row === undefined;
}

const stampOf = (file: InboxFile, { riderId, bikeId, rule }: FolderMeaning): string =>
  [file.bytes, file.modifiedMs, file.changedMs, riderId, bikeId, rule].join(' ');

/** One file that fails must not hold up the others; a store that fails does, for then this cannot be said either. */
function whyNot(error: unknown): { readonly code: string; readonly reason: string } {
  if (error instanceof ServiceError && error.code === 'disk-failed') {
    const { code, message, hint = 'Is it still there, and may this program read it?' } = error;
    return { code, reason: `The file cannot be read or kept: ${message} ${hint}` };
  }
  return { code: 'fault', reason: 'It could not be taken, by a fault of this program, which is in its log' };
}

/** Takes what is at a path; `onWay` is told after some of many files. */
async function take(
  deps: ScanDeps,
  file: InboxFile,
  { riderId, bikeId, rule }: FolderMeaning,
  onWay: (soFar: number) => Promise<void>,
): Promise<Taken[]> {
  const taken: Taken[] = [];
  for await (const one of takePath(deps, { path: file.at, name: file.path, riderId, bikeId, rule })) {
    taken.push(one);
    if (taken.length % TOLD_EACH === 0) await onWay(taken.length);
  }
  return taken;
}

async function sayProblem(
  deps: ScanDeps,
  { code, message, source }: Problem,
  row: InboxRow | undefined,
  now: Instant,
): Promise<boolean> {
  if (row?.code === code) return false;
  const at = { path: source, bytes: 0, modifiedMs: 0, stamp: code, seenAt: now, settled: true };
  await put(deps, { ...at, outcome: 'set-aside', code, reason: message });
  return true;
}

const folderOf = (path: string): string => (path.includes('/') ? path.slice(0, path.indexOf('/')) : '');

const put = (deps: ScanDeps, row: InboxRow): Promise<void> => deps.store.write((tx) => tx.inbox.put(row));

const NOT_TOLD = 'not-told';

/** Tells what became of each file; where that cannot be written it is said on the page, and tried again. */
async function tellRider(deps: ScanDeps, folder: string, now: Instant): Promise<void> {
  const rows = await deps.store.read((tx) => tx.inbox.list());
  const failed = await deps.inbox.tell(folder, whatHappenedText(folder, rows));
  const before = rows.filter((row) => row.code === NOT_TOLD && folderOf(row.path) === folder);
  if (failed) await sayProblem(deps, { ...failed, code: NOT_TOLD }, before[0], now);
  else if (before.length > 0) await deps.store.write((tx) => tx.inbox.remove(before.map((row) => row.path)));
}
