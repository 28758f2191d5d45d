import { dayOf } from '../../core/days/calendar.js';
import { groupBy } from '../../core/groupBy.js';
import type { RideKey, RideRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import type { Entry } from '../entry.js';
import { getWorkshop } from '../settings.js';
import { answerTray } from './answerTray.js';

/** Rides that came by one way and ask for their bike: they may be answered together. */
export interface TrayGroup {
  /** The folder that they came in; empty for none. */
  readonly folder: string;
  /** Whose they are; null where that is asked too. */
  readonly rider: string | null;
  readonly rides: readonly { readonly id: string; readonly day: Day | null }[];
}

const folderOf = (file: string): string => file.split('/').slice(0, -1).join('/');

/** So many rides that ask for their bike are looked through; once they are answered, the next are. */
const MOST_TOGETHER = 500;

/** A ride that asks for its bike. */
export interface AsksForBike extends RideKey {
  readonly file: string;
  readonly rider: string | null;
}

/** Returns what may be answered together. */
export async function listGroups(tx: Tx): Promise<TrayGroup[]> {
  const rides = await tx.rides.listAskingForBike(MOST_TOGETHER);
  const files = await tx.rides.firstNames(rides.map(({ id }) => id));
  const riderIds = [...new Set(rides.map(({ riderId }) => riderId))].filter((id) => id !== null);
  const riders = await tx.handles.listOf('rider', riderIds);
  const rows = rides.map(({ id, start, riderId }) => ({
    ...{ id, start, file: files.get(id) ?? '' },
    rider: riderId === null ? null : (riders.get(riderId) ?? null),
  }));
  return groupsOf(rows, (await getWorkshop(tx)).timeZone);
}

/** Returns what may be answered together: two rides and more. */
export function groupsOf(rows: readonly AsksForBike[], zone: string): TrayGroup[] {
  const groups = groupBy(rows, ({ file, rider }) => JSON.stringify([folderOf(file), rider]));
  return [...groups.values()]
    .filter((own) => own.length > 1)
    .map((own) => ({
      folder: folderOf(own[0]!.file),
      rider: own[0]!.rider,
      rides: own.map(({ id, start }) => ({ id, day: start === null ? null : dayOf(start, zone) })),
    }));
}

export interface ManyAnswered {
  readonly answered: number;
  /** What waits still: another question stands, or somebody was first. */
  readonly left: number;
}

/** Which rides are meant: those that are ticked, of these the ones that began in a time. */
export interface ManyMeant {
  readonly ticked: readonly string[];
  readonly time: { readonly from: Day | null; readonly to: Day | null };
}

/** Puts the rides that still ask for it on one bike, in one transaction. Returns null where none is meant. */
export async function answerMany(
  tx: Tx,
  { ticked, time }: ManyMeant,
  bikeId: string,
  entry: Entry,
): Promise<ManyAnswered | null> {
  const { timeZone } = await getWorkshop(tx);
  const rides: RideRow[] = [];
  for (const id of new Set(ticked)) {
    const ride = await tx.rides.find(id);
    if (ride && !ride.dismissed && ride.question !== null) rides.push(ride);
  }
  const rideIds = ridesBetween(rides, time, timeZone);
  if (rideIds.length === 0) return null;
  let answered = 0;
  for (const id of rideIds) {
    const ride = await tx.rides.find(id);
    if (ride?.question !== 'who' && ride?.question !== 'which-bike') continue;
    const { question } = await answerTray(tx, id, { bikeId }, entry);
    if (question === null) answered++;
  }
  return { answered, left: rideIds.length - answered };
}

/** Returns the ride that stands after one in the tray. */
export async function rideAfter(tx: Tx, rideId: string): Promise<string | undefined> {
  const ride = await tx.rides.find(rideId);
  const asking = ride === undefined ? [] : await tx.rides.listAskingFrom(ride, 2);
  return asking.find(({ id }) => id !== rideId)?.id;
}

/** Of the rides of a group those that began in a time; those without a day belong to no part of it. */
export const ridesBetween = (
  rides: readonly { readonly start: Instant | null; readonly id: string }[],
  { from, to }: { readonly from: Day | null; readonly to: Day | null },
  zone: string,
): string[] =>
  rides.flatMap(({ id, start }) => {
    if (from === null && to === null) return [id];
    const day = start === null ? null : dayOf(start, zone);
    return day !== null && (from === null || day >= from) && (to === null || day <= to) ? [id] : [];
  });
