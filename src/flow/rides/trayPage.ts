import type { Stray } from '../../core/fileTold.js';
import type { InboxRow } from '../../ports/inbox.js';
import type { RideKey, RideRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';
import { hoursOfSeconds, type Instant } from '../../units.js';
import { openFolderMeanings } from '../take/folderMeaning.js';
import { isAskedBy } from '../take/pathTold.js';
import { type ClimbsAsked, findClimbsSaid } from './listClimbs.js';
import { listTray, type TrayRow } from './listTray.js';
import { findGiven, type GivenHours } from './rideChanges.js';
import { listGroups, type TrayGroup } from './trayGroups.js';
import { namedFor, type TrayNames } from './trayNames.js';

export interface TrayPage extends TrayNames {
  /** Those that may be answered together. */
  readonly groups: readonly TrayGroup[];
  /** A part of what waits. */
  readonly asking: readonly AskingRow[];
  /** How many wait in all. */
  readonly waiting: number;
  /** Where the next part begins; null where this one is the last. */
  readonly next: RideKey | null;
  /** Files of the drop folder that could not be used, the latest. */
  readonly aside: readonly InboxRow[];
  /** What the ride that was just answered gives to which units; null where none was, or it does not count. */
  readonly given: GivenHours | null;
  /** What was said of its climbs; null where nothing was. */
  readonly climbsSaid: ClimbsAsked | null;
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

/** So many questions are shown at once, and so many files that could not be used. */
const ASKING_SHOWN = 20;
const ASIDE_SHOWN = 100;

/** Shape: `from` is where the part that is shown begins, `answered` the ride that was answered just now. */
export async function getTrayPage(
  tx: Tx,
  { from, answered }: { readonly from: RideKey | null; readonly answered: string | null },
): Promise<TrayPage> {
  const given = answered === null ? null : await findGiven(tx, answered);
  const ride = answered === null ? undefined : await tx.rides.find(answered);
  const climbsSaid = ride?.source === 'recorded' ? await findClimbsSaid(tx, ride) : null;
  const { rides, next } = await partFrom(tx, from);
  const ends = new Map(rides.map(({ id, end }) => [id, end]));
  const listed = await listTray(tx, rides);
  const strayOf = await openStrays(tx, listed);
  const asking: AskingRow[] = [];
  for (const row of listed) {
    const other = await otherOf(tx, row.sameAs);
    asking.push({ ...row, stray: strayOf(row), end: ends.get(row.id) ?? null, other });
  }
  const groups = await listGroups(tx);
  return {
    ...(await namedFor(tx, listed, groups)),
    ...{ groups, asking, next, given, climbsSaid },
    waiting: await tx.rides.countAsking(),
    aside: await tx.inbox.listSetAside(ASIDE_SHOWN),
  };
}

/** From the first, where nothing is left from there on. */
async function partFrom(
  tx: Tx,
  from: RideKey | null,
): Promise<{ readonly rides: readonly RideRow[]; readonly next: RideKey | null }> {
  const rides = await tx.rides.listAskingFrom(from, ASKING_SHOWN + 1);
  if (rides.length === 0 && from !== null) return partFrom(tx, null);
  const after = rides[ASKING_SHOWN];
  return {
    rides: rides.slice(0, ASKING_SHOWN),
    next: after === undefined ? null : { start: after.start, id: after.id },
  };
}

/** Returns what tells the folder that was to answer a question, where the drop folder holds its file. */
async function openStrays(tx: Tx, rows: readonly TrayRow[]): Promise<(row: TrayRow) => Stray | null> {
  const dropped = await tx.inbox.listThere([...new Set(rows.map(({ file }) => file))]);
  const meaningOf = await openFolderMeanings(tx, dropped);
  return ({ file, code }) => {
    const stray = dropped.includes(file) ? meaningOf(file).stray : null;
    return stray !== null && isAskedBy(stray, code) ? stray : null;
  };
}
