import { groupBy } from '../../core/groupBy.js';
import { joinRecordings, moved, recordedOf } from '../../core/rides/joinRecordings.js';
import type { Part } from '../../core/rides/ride.js';
import type { Question } from '../../core/tokens.js';
import type { RideRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';
import { hoursOfSeconds, type Instant } from '../../units.js';
import { getBike } from '../unitLedger.js';
import { listParts } from './bikeKnowledge.js';
import { type ClimbsAsked, climbWords, findLikeDay, type LikeDay, listClimbs } from './listClimbs.js';
import { listNamedBikes } from './namedBikes.js';

/** What waits in the tray, with the ways to answer. */
export interface TrayRow {
  readonly id: string;
  /** As it was first handed over. */
  readonly file: string;
  readonly code: Question;
  readonly start: Instant | null;
  readonly movingHours: number;
  /** The moving hours if the doubtful part was ridden too. */
  readonly movingHoursWithDoubtful: number | null;
  readonly rider: string | null;
  readonly bike: string | null;
  /** The ride that this one may be the same as. */
  readonly sameAs: string | null;
  readonly sameAsStart: Instant | null;
  /** The bikes that it was handed over for, where they contradict each other. */
  readonly named: readonly string[];
  /** Those that it may have been on. */
  readonly bikes: readonly string[];
  /** Stretches upward that may not have been ridden; null where nothing upward is asked. */
  readonly climbs: ClimbsAsked | null;
  /** What was said of a like day of this rider. */
  readonly likeDay: LikeDay | null;
}

/** Returns what only this rider can answer, and the workshop for them. */
export const listAskingOf = (tx: Tx, riderId: string): Promise<readonly RideRow[]> =>
  tx.rides.listAskingOfRider(riderId);

/** Returns what waits: all of it, or the rides that are named. */
export async function listTray(tx: Tx, asking?: readonly RideRow[]): Promise<TrayRow[]> {
  const rows: TrayRow[] = [];
  const rides = asking ?? (await tx.rides.listAsking());
  const namedOn = await listNamedBikes(
    tx,
    rides.filter((ride) => ride.question === 'which-bike'),
  );
  const idsOf = (ids: readonly (string | null)[]): string[] => [...new Set(ids)].filter((id) => id !== null);
  const riders = await tx.handles.listOf('rider', idsOf(rides.map(({ riderId }) => riderId)));
  const bikeIds = idsOf([...rides.map(({ bikeId }) => bikeId), ...[...namedOn.values()].flat()]);
  const bikes = await tx.handles.listOf('bike', bikeIds);
  const files = await tx.rides.firstNames(rides.map(({ id }) => id));
  const ownBikes = groupBy(
    await tx.facts.listTouching('bike', idsOf(rides.map(({ riderId }) => riderId))),
    ({ body }) => body.riderId ?? '',
  );
  for (const ride of rides) {
    const question = ride.question!;
    const own = ride.riderId === null ? [] : (ownBikes.get(ride.riderId) ?? []);
    const named = (namedOn.get(ride.id) ?? []).map((id) => bikes.get(id) ?? id).sort();
    const handles = [...new Set([...named, ...own.map((fact) => fact.body.handle)])];
    const parts = question === 'vehicle' || question === 'climbs' ? await listParts(tx, ride.readingIds) : [];
    const bike = question !== 'climbs' || ride.bikeId === null ? null : await getBike(tx, ride.bikeId);
    const other = ride.otherRideId === null ? undefined : await tx.rides.find(ride.otherRideId);
    rows.push({
      id: ride.id,
      file: files.get(ride.id) ?? '',
      code: question,
      start: ride.start,
      movingHours: hoursOfSeconds(ride.movingS),
      movingHoursWithDoubtful: parts.length > 0 ? hoursIfRidden(ride, parts) : null,
      rider: ride.riderId === null ? null : (riders.get(ride.riderId) ?? null),
      bike: ride.bikeId === null ? null : (bikes.get(ride.bikeId) ?? null),
      sameAs: ride.otherRideId,
      sameAsStart: other?.start ?? null,
      named: named.length > 1 ? named : [],
      bikes: handles,
      climbs: question === 'climbs' ? listClimbs(ride, parts, bike ?? undefined) : null,
      likeDay: question === 'climbs' ? await findLikeDay(tx, ride, parts, bike ?? undefined) : null,
    });
  }
  return rows;
}

function hoursIfRidden(ride: RideRow, parts: readonly Part[]): number {
  const climbs = ride.question === 'climbs' ? climbWords(ride, parts, 'all') : null;
  const ridden = parts.map((part) => ({
    ...part,
    answer: {
      ...part.answer,
      ride: { ...part.answer.ride, vehicle: true },
      ...(climbs && { climbs: climbs.get(part.readingId)! }),
    },
  }));
  const group = ride.readingIds.map((id, i) =>
    moved(recordedOf(ridden.find((part) => part.readingId === id)!), ride.shiftsMs[i] ?? 0),
  );
  return hoursOfSeconds(joinRecordings(group).movingS);
}
