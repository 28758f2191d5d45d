import type { Stray } from '../../core/fileTold.js';
import type { InboxRow } from '../../ports/inbox.js';
import type { Tx } from '../../ports/store.js';
import { hoursOfSeconds, type Instant } from '../../units.js';
import { getWorkshop } from '../settings.js';
import { openFolderMeanings } from '../take/folderMeaning.js';
import { isAskedBy } from '../take/pathTold.js';
import { listTray, type TrayRow } from './listTray.js';
import { findGiven, type GivenHours } from './rideChanges.js';
import { groupsOf, type TrayGroup } from './trayGroups.js';

export interface HandleAndName {
  readonly handle: string;
  readonly name: string;
}

export interface TrayPage {
  /** Those that may be answered together. */
  readonly groups: readonly TrayGroup[];
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
  readonly end: Instant | null;
  /** The ride that it overlaps with or is much like. */
  readonly other: OtherRide | null;
}

/** What is shown of the other ride beside a question about two. */
export interface OtherRide {
  readonly id: string;
  readonly start: Instant;
  readonly end: Instant;
  readonly movingHours: number;
  readonly bike: string | null;
}

async function otherOf(tx: Tx, id: string | null): Promise<OtherRide | null> {
  const ride = id === null ? undefined : await tx.rides.find(id);
  if (!ride || ride.start === null || ride.end === null) return null;
  const bike = ride.bikeId === null ? undefined : await tx.facts.current('bike', ride.bikeId);
  const { start, end } = ride;
  return {
    id: ride.id,
    start,
    end,
    movingHours: hoursOfSeconds(ride.movingS),
    bike: bike?.body.name ?? null,
  };
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
  const rides = await tx.rides.listAsking();
  const ends = new Map(rides.map(({ id, end }) => [id, end]));
  const listed = await listTray(tx, rides);
  const asking: AskingRow[] = [];
  for (const row of listed) {
    const other = await otherOf(tx, row.sameAs);
    asking.push({ ...row, stray: strayOf(row), end: ends.get(row.id) ?? null, other });
  }
  const groups = groupsOf(listed, (await getWorkshop(tx)).timeZone);
  return { groups, asking, riders: riders.sort(byName), bikes: bikes.sort(byName), aside, given };
}
