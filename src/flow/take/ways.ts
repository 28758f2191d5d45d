/** By which ways each rider's files come, how late as a rule, and what of them is stuck. */
import { dayOf } from '../../core/days/calendar.js';
import { FILES_LOOKED_AT, howLate } from '../../core/forecast/knownUpTo.js';
import type { FileWay } from '../../core/tokens.js';
import type { Contact } from '../../ports/contacts.js';
import type { Tx } from '../../ports/store.js';
import { type Day, type Instant, instant } from '../../units.js';
import { listAskingOf } from '../rides/listTray.js';
import { getWorkshop } from '../settings.js';

/** So many riders are shown on a page. */
export const RIDERS_WITH_WAYS = 200;

export interface WayUsed {
  /** Null where an earlier program took the files. */
  readonly way: FileWay | null;
  readonly rides: number;
  readonly last: Day;
}

export interface RiderWays {
  readonly rider: string;
  readonly name: string;
  /** The latest first; none where nothing ever came. */
  readonly ways: readonly WayUsed[];
  /** After so many days nine of ten rides have come; null where too few came to tell. */
  readonly daysLate: number | null;
  /** Rides that wait for a word. */
  readonly asking: number;
  /** Files in the rider's folder that could not be used. */
  readonly setAside: number;
  /** Mails of the rider that could not be read. */
  readonly mailsLeft: number;
}

/** What the page shows: the first riders in order of names, and how many there are. */
export interface WaysPage {
  readonly rows: readonly RiderWays[];
  readonly contacts: readonly Contact[];
  readonly count: number;
}

export const getWaysPage = async (tx: Tx, now: Instant): Promise<WaysPage> => ({
  rows: await listWays(tx, now, RIDERS_WITH_WAYS),
  contacts: await tx.contacts.listFirst(RIDERS_WITH_WAYS),
  count: await tx.contacts.count(),
});

/** Returns the rider of that id, as a form names one; null where there is none. */
export const riderNamed = async (tx: Tx, riderId: string): Promise<string | null> =>
  (await tx.contacts.find(riderId))?.riderId ?? null;

/** Returns the ways of riders in order of names, of at most so many. */
export async function listWays(tx: Tx, now: Instant, most?: number): Promise<RiderWays[]> {
  const { timeZone } = await getWorkshop(tx);
  const contacts = most === undefined ? await tx.contacts.list() : await tx.contacts.listFirst(most);
  const names = await tx.handles.listOf(
    'rider',
    contacts.map(({ riderId }) => riderId),
  );
  const inFolder = await countSetAside(tx);
  const found: RiderWays[] = [];
  for (const { riderId, name } of contacts) {
    const rider = names.get(riderId) ?? riderId;
    const came = await tx.rides.listWays(riderId, FILES_LOOKED_AT);
    const used = new Map<FileWay | null, { rides: number; last: Instant }>();
    for (const one of came) {
      const { rides, last } = used.get(one.way) ?? { rides: 0, last: one.came };
      used.set(one.way, { rides: rides + 1, last: instant(Math.max(last, one.came)) });
    }
    const ridden = came.map((one) => ({
      ridden: dayOf(one.start, timeZone),
      came: dayOf(one.came, timeZone),
    }));
    found.push({
      ...{ rider, name },
      ways: [...used]
        .sort(([, a], [, b]) => b.last - a.last)
        .map(([way, { rides, last }]) => ({ way, rides, last: dayOf(last, timeZone) })),
      daysLate: howLate(ridden, dayOf(now, timeZone)),
      asking: (await listAskingOf(tx, riderId)).length,
      setAside: inFolder.get(rider) ?? 0,
      mailsLeft: await tx.mailed.countUnread(riderId),
    });
  }
  return found.sort((a, b) => (a.name < b.name ? -1 : 1));
}

const MOST_SET_ASIDE = 1000;

/** Of each folder of the drop folder. */
async function countSetAside(tx: Tx): Promise<ReadonlyMap<string, number>> {
  const counts = new Map<string, number>();
  for (const { path } of await tx.inbox.listSetAside(MOST_SET_ASIDE)) {
    const folder = path.slice(0, Math.max(0, path.indexOf('/')));
    counts.set(folder, (counts.get(folder) ?? 0) + 1);
  }
  return counts;
}
