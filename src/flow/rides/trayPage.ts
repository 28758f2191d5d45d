import type { Stray } from '../../core/fileTold.js';
import type { InboxRow } from '../../ports/inbox.js';
import type { Tx } from '../../ports/store.js';
import { openFolderMeanings } from '../take/folderMeaning.js';
import { isAskedBy } from '../take/pathTold.js';
import { listTray, type TrayRow } from './listTray.js';
import { findGiven, type GivenHours } from './rideChanges.js';

export interface HandleAndName {
  readonly handle: string;
  readonly name: string;
}

export interface TrayPage {
  readonly asking: readonly AskingRow[];
  readonly riders: readonly HandleAndName[];
  readonly bikes: readonly (HandleAndName & { readonly rider: string | null })[];
  /** Files of the drop folder that could not be used. */
  readonly aside: readonly InboxRow[];
  /** What the ride that was just answered gives to which units; null where none was, or it does not count. */
  readonly given: GivenHours | null;
}

export interface AskingRow extends TrayRow {
  /** The folder that was to answer it. */
  readonly stray: Stray | null;
}

const byName = (a: HandleAndName, b: HandleAndName): number => (a.name < b.name ? -1 : 1);

export async function getTrayPage(tx: Tx, answered: string | null = null): Promise<TrayPage> {
  const given = answered === null ? null : await findGiven(tx, answered);
  const handles = await tx.handles.all('rider');
  const riders = (await tx.contacts.list()).map(({ riderId, name }) => ({
    handle: handles.get(riderId) ?? riderId,
    name,
  }));
  const bikes = (await tx.facts.list('bike')).map(({ body: { handle, name, riderId } }) => ({
    handle,
    name,
    rider: riderId === null ? null : (handles.get(riderId) ?? null),
  }));
  const rows = await tx.inbox.list();
  const aside = rows.filter((row) => row.settled && row.outcome === 'set-aside');
  const dropped = new Set(rows.map(({ path }) => path));
  const meaningOf = await openFolderMeanings(tx);
  const strayOf = ({ file, code }: TrayRow): Stray | null => {
    const stray = dropped.has(file) ? meaningOf(file).stray : null;
    return stray !== null && isAskedBy(stray, code) ? stray : null;
  };
  const asking = (await listTray(tx)).map((row) => ({ ...row, stray: strayOf(row) }));
  return { asking, riders: riders.sort(byName), bikes: bikes.sort(byName), aside, given };
}
