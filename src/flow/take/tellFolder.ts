import type { Inbox, InboxRow } from '../../ports/inbox.js';
import type { Tx } from '../../ports/store.js';
import type { Problem } from '../../problems.js';
import type { Instant } from '../../units.js';
import type { Deps } from '../deps.js';
import { findWorkshop } from '../settings.js';
import { openFolderMeanings } from './folderMeaning.js';

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
  { code, source }: Problem,
  row: InboxRow | undefined,
  now: Instant,
): Promise<boolean> {
  if (row?.code === code) return false;
  const at = { path: source, bytes: 0, modifiedMs: 0, stamp: code, seenAt: now, settled: true };
  await putRow(deps, { ...at, outcome: 'set-aside', code, said: null });
  return true;
}

/** Tells what became of each file; where that cannot be written it is said on the page, and tried again. */
export async function tellRider(deps: ScanDeps, folder: string, now: Instant): Promise<void> {
  const { rows, language } = await deps.store.read(async (tx) => ({
    rows: await tx.inbox.list(),
    language: await languageIn(tx, folder),
  }));
  const prefix = folder === '' ? '' : `${folder}/`;
  const isIn = (path: string): boolean =>
    folder === '' ? path !== '' && !path.includes('/') : path.startsWith(prefix);
  const paths = rows
    .filter(({ path }) => isIn(path))
    .map((row) => ({ ...row, path: row.path.slice(prefix.length) }));
  const failed = await deps.inbox.tell(folder, { language, paths });
  const before = rows.filter((row) => row.code === NOT_TOLD && folderOf(row.path) === folder);
  if (failed) await sayProblem(deps, { ...failed, code: NOT_TOLD }, before[0], now);
  else if (before.length > 0) await deps.store.write((tx) => tx.inbox.remove(before.map((row) => row.path)));
}

/** The rider's whose folder it is, else the workshop's. */
async function languageIn(tx: Tx, folder: string): Promise<string> {
  const { riderId } = (await openFolderMeanings(tx))(`${folder}/`);
  const contact = riderId === null ? undefined : await tx.contacts.find(riderId);
  return contact?.language ?? (await findWorkshop(tx))?.body.language ?? 'en';
}
