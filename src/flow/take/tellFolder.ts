import type { FolderWords, Inbox, InboxRow } from '../../ports/inbox.js';
import type { Tx } from '../../ports/store.js';
import type { Problem } from '../../problems.js';
import type { Instant } from '../../units.js';
import type { Deps } from '../deps.js';
import { findWorkshop } from '../settings.js';
import { whatHappenedText } from './whatHappened.js';

export interface ScanDeps extends Deps {
  readonly inbox: Inbox;
}

/** Of a text that could not be written; its row stands for the text's own path. */
export const NOT_TOLD = 'not-told';

/** Returns the rider's folder of a path in the drop folder; empty for what lies in no folder. */
export const folderOf = (path: string): string =>
  path.includes('/') ? path.slice(0, path.indexOf('/')) : '';

export const putRow = (deps: ScanDeps, row: InboxRow): Promise<void> =>
  deps.store.write((tx) => tx.inbox.put(row));

/** Says once what is wrong with a path; true where it was not said before. */
export async function sayProblem(
  deps: ScanDeps,
  { code, message, source }: Problem,
  row: InboxRow | undefined,
  now: Instant,
): Promise<boolean> {
  if (row?.code === code) return false;
  const at = { path: source, bytes: 0, modifiedMs: 0, stamp: code, seenAt: now, settled: true };
  await putRow(deps, { ...at, outcome: 'set-aside', code, reason: message });
  return true;
}

/** Returns the words of a folder's rider; of a folder that is nobody's the workshop's. */
export async function wordsFor(
  tx: Tx,
  { writer }: Pick<Deps, 'writer'>,
  folder: string,
): Promise<FolderWords> {
  const riderId = await tx.handles.find('rider', folder.normalize('NFC'));
  const contact = riderId === undefined ? undefined : await tx.contacts.find(riderId);
  return writer.folder(contact?.language ?? (await findWorkshop(tx))?.body.language ?? '');
}

/** Tells what became of each file; where that cannot be written it is said on the page, and tried again. */
export async function tellRider(deps: ScanDeps, folder: string, now: Instant): Promise<void> {
  const { rows, words } = await deps.store.read(async (tx) => ({
    rows: await tx.inbox.list(),
    words: await wordsFor(tx, deps, folder),
  }));
  const failed = await deps.inbox.tell(folder, whatHappenedText(folder, rows, words));
  const before = rows.filter((row) => row.code === NOT_TOLD && folderOf(row.path) === folder);
  if (failed) await sayProblem(deps, { ...failed, code: NOT_TOLD }, before[0], now);
  else if (before.length > 0) await deps.store.write((tx) => tx.inbox.remove(before.map((row) => row.path)));
}
