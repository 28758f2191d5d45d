import { ServiceError } from '../errors.js';
import type { Inbox, InboxFile, InboxRow } from '../ports.js';
import type { Problem } from '../problems.js';
import { type Instant, MINUTE_MS } from '../units.js';
import type { Deps } from './deps.js';
import type { Taken } from './ingestFile.js';
import { takePath } from './takePath.js';

/** A file that is not whole by its own format is taken as damaged once it stood still for so long. */
const STILL_MS = 5 * MINUTE_MS;

export interface ScanDeps extends Deps {
  readonly inbox: Inbox;
}

/** The row of the drop folder itself, for when it is gone. */
const ROOT = '';
const ROOT_GONE =
  'The drop folder is not there. Is its disk connected, or was it renamed? Nothing that was counted is lost.';

/**
 * Scans the whole drop folder once and takes what is ready; true when anything changed.
 *
 * A file is ready when
 * - it is whole by its own format (FIT size and checksum, GPX closing tag, the directory of a zip), or
 * - it has stood still, in size and time, for five minutes: then it is taken as damaged or refused.
 * A file that was taken is looked at again only when its size or time changes. One that cannot be read or kept is told
 * of and tried again, and holds up no other. A drop folder that is gone says nothing of the files that lay in it.
 */
export async function scanInboxOnce(deps: ScanDeps): Promise<boolean> {
  const now = deps.clock.now();
  const known = new Map((await deps.store.read((tx) => tx.inbox.list())).map((row) => [row.path, row]));
  const scanned = await deps.inbox.scan();
  if (scanned === 'missing') return sayRootGone(deps, known.get(ROOT), now);
  const changed = new Set<string>();
  for (const file of scanned.files)
    if (await look(deps, file, known.get(file.path), now)) changed.add(folderOf(file.path));
  for (const problem of scanned.problems)
    if (await sayProblem(deps, problem, known.get(problem.source), now))
      changed.add(folderOf(problem.source));
  const there = new Set([
    ...scanned.files.map((file) => file.path),
    ...scanned.problems.map((one) => one.source),
  ]);
  const gone = [...known.keys()].filter((path) => !there.has(path));
  if (gone.length > 0) await deps.store.write((tx) => tx.inbox.remove(gone));
  for (const folder of changed) if (folder !== '') await tellRider(deps, folder);
  return changed.size > 0;
}

async function sayRootGone(deps: ScanDeps, row: InboxRow | undefined, now: Instant): Promise<boolean> {
  if (row) return false;
  const gone = { path: ROOT, bytes: 0, modifiedMs: 0, seenAt: now, settled: true };
  await put(deps, { ...gone, outcome: 'set-aside', code: 'folder-missing', reason: ROOT_GONE });
  return false;
}

/** Returns whether there is something new to tell of the file. */
async function look(
  deps: ScanDeps,
  file: InboxFile,
  row: InboxRow | undefined,
  now: Instant,
): Promise<boolean> {
  const isSame = row !== undefined && row.bytes === file.bytes && row.modifiedMs === file.modifiedMs;
  if (isSame && row.settled) return false;
  const seenAt = isSame ? row.seenAt : now;
  const waiting: InboxRow = {
    ...rowOf(file, seenAt),
    settled: false,
    outcome: null,
    code: null,
    reason: null,
  };
  try {
    if ((await deps.reader.isWhole(file.at)) || now - seenAt >= STILL_MS) {
      await put(deps, { ...rowOf(file, now), settled: true, ...summaryOf(await take(deps, file)) });
      return true;
    }
  } catch (error) {
    const cannot = whyNot(error);
    if (!isSame || row.reason !== cannot.reason)
      deps.log.error({ code: cannot.code }, 'a file could not be taken and is tried again');
    await put(deps, { ...waiting, ...cannot });
    return !isSame || row.reason !== cannot.reason;
  }
  if (!isSame) await put(deps, waiting);
  return false;
}

/** One file that fails must not hold up the others; a store that fails would fail them all. */
function whyNot(error: unknown): { readonly code: string; readonly reason: string } {
  if (error instanceof ServiceError && error.code === 'disk-failed') {
    return {
      code: error.code,
      reason: error.hint === undefined ? error.message : `${error.message} ${error.hint}`,
    };
  }
  const isGone =
    error instanceof Error &&
    'code' in error &&
    ['ENOENT', 'EACCES', 'EPERM', 'EIO'].includes(String(error.code));
  if (isGone) return { code: 'disk-failed', reason: 'The file cannot be read. May this program read it?' };
  throw error;
}

async function sayProblem(
  deps: ScanDeps,
  { code, message, source }: Problem,
  row: InboxRow | undefined,
  now: Instant,
): Promise<boolean> {
  if (row?.code === code) return false;
  const at = { path: source, bytes: 0, modifiedMs: 0, seenAt: now, settled: true };
  await put(deps, { ...at, outcome: 'set-aside', code, reason: message });
  return true;
}

const folderOf = (path: string): string => (path.includes('/') ? path.slice(0, path.indexOf('/')) : '');

const rowOf = (file: InboxFile, seenAt: Instant) => ({
  path: file.path,
  bytes: file.bytes,
  modifiedMs: file.modifiedMs,
  seenAt,
});

const put = (deps: ScanDeps, row: InboxRow): Promise<void> => deps.store.write((tx) => tx.inbox.put(row));

async function take(deps: ScanDeps, file: InboxFile): Promise<Taken[]> {
  const [rider, bike] = file.path.split('/').slice(0, -1);
  const { riderId, bikeId } = await deps.store.read(async (tx) => ({
    riderId: rider === undefined ? null : ((await tx.handles.find('rider', rider)) ?? null),
    bikeId: bike === undefined ? null : ((await tx.handles.find('bike', bike)) ?? null),
  }));
  const taken: Taken[] = [];
  const rule = bikeId === null ? null : 'subfolder';
  for await (const one of takePath(deps, { path: file.at, name: file.path, riderId, bikeId, rule }))
    taken.push(one);
  return taken;
}

/** An archive is told by how many of its files came to what. */
function summaryOf(taken: readonly Taken[]): Pick<InboxRow, 'outcome' | 'code' | 'reason'> {
  const [first] = taken;
  if (first !== undefined && taken.length === 1)
    return { outcome: first.outcome, code: first.code, reason: first.reason };
  const counts = new Map<string, number>();
  for (const one of taken) counts.set(one.outcome, (counts.get(one.outcome) ?? 0) + 1);
  const reason = [...counts]
    .map(([outcome, count]) => `${count} ${TOLD[outcome as Taken['outcome']]}`)
    .join(', ');
  return {
    outcome: taken.length === 0 ? 'set-aside' : 'archive',
    code: null,
    reason: reason || 'an empty archive',
  };
}

const TOLD: Readonly<Record<Taken['outcome'], string>> = {
  counted: 'counted',
  'counted-already': 'counted before, nothing added',
  joined: 'joined with another recording of the same ride',
  ask: 'waiting for an answer',
  'no-ride': 'not a ride',
  'set-aside': 'set aside',
};

/** A name that hides what it is, or turns the text around, is told by its characters' numbers. */
const shown = (name: string): string =>
  name.replace(
    /[\p{Cc}\p{Cf}\u2028\u2029]/gu,
    (character) => `\\u{${character.codePointAt(0)!.toString(16)}}`,
  );

/** A line a file, so that nobody needs to guess what became of it. */
async function tellRider({ store, inbox }: ScanDeps, folder: string): Promise<void> {
  const rows = (await store.read((tx) => tx.inbox.list())).filter((row) => row.path.startsWith(`${folder}/`));
  const lines = rows.map((row) => {
    const name = shown(row.path.slice(folder.length + 1));
    if (!row.settled) return `${name}: ${row.reason ?? 'still being copied, it seems'}; looked at again soon`;
    const told = row.outcome === 'archive' ? row.reason : TOLD[row.outcome as Taken['outcome']];
    const reason = row.reason === null || row.outcome === 'archive' ? '' : `. ${row.reason}`;
    return `${name}: ${told}${reason}`;
  });
  await inbox.tell(
    folder,
    `What happened to the files in this folder. None was moved or changed.\n\n${lines.join('\n')}\n`,
  );
}
