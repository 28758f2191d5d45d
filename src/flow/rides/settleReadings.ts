import { dayOf } from '../../core/days/calendar.js';
import type { BikeKnowledge } from '../../core/rides/attribution.js';
import { bikeOfProfile, bikeOfSensor } from '../../core/rides/attribution.js';
import { type RecorderUse, riderOfRecorder, wordOfRecorder } from '../../core/rides/recorder.js';
import { LARGEST_SHIFT_MS } from '../../core/rides/rhythm.js';
import type { Part, Ride } from '../../core/rides/ride.js';
import { CLOCK_SKEW_MS } from '../../core/rides/sameRide.js';
import {
  namedBikeOf,
  namedRiderOf,
  ownPlaceOf,
  profileOf,
  recorderOf,
  settleRides,
} from '../../core/rides/settle.js';
import type { RidePart, RideRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';
import { type Instant, instant } from '../../units.js';
import { recountBikes } from '../due/refreshDue.js';
import { getWeights, getWorkshop } from '../settings.js';
import {
  bikeSensorsOf,
  gatherBikes,
  listConfirmations,
  listParts,
  type OfProfile,
  profileKey,
  profilesTaught,
  recordersOf,
} from './bikeKnowledge.js';
import { RideChanges } from './rideChanges.js';

/** Readings hold profiles, so that only some are in memory at a time. */
const READINGS_AT_ONCE = 200;

/** A ride as a row of the store. */
export const rowOf = (ride: Ride, zone: string): RideRow => ({
  ...ride,
  source: 'recorded',
  day: ride.start === null ? null : dayOf(ride.start, zone),
});

export const partRowsOf = (
  rides: readonly Ride[],
  parts: readonly Part[],
  known: BikeKnowledge,
): RidePart[] => {
  const rideIds = new Map(rides.flatMap((ride) => ride.readingIds.map((id) => [id, ride.id] as const)));
  return parts
    .filter((part) => rideIds.has(part.readingId))
    .map((part) => ({
      readingId: part.readingId,
      rideId: rideIds.get(part.readingId)!,
      ...ownPlaceOf(part, known),
      namedBikeId: namedBikeOf(part),
      profile: profileOf(part.reading),
      recorder: recorderOf(part),
      namedRiderId: namedRiderOf(part, known),
    }));
};

/**
 * Settles the rides of these readings and of all that they touch, and recounts every unit whose rides changed.
 * Returns the rides that hold the readings.
 */
export async function settleReadings(
  tx: Tx,
  readingIds: readonly string[],
  now: Instant,
  changes = new RideChanges(),
): Promise<RideRow[]> {
  const rides = await settleUncounted(tx, readingIds, changes);
  await recountBikes(tx, changes.bikeIds, now);
  return rides;
}

/**
 * The same without recounting; what became of the rides is added to `changes`. What a person named may teach a
 * sensor or a recorder; other rides that carry it follow.
 */
export async function settleUncounted(
  tx: Tx,
  readingIds: readonly string[],
  changes: RideChanges,
): Promise<RideRow[]> {
  const teaching = await listTeaching(tx, readingIds);
  const { sensorIds, profiles, recorders } = teaching;
  const taughtBefore = await listConfirmations(tx, sensorIds);
  const profilesBefore = await profilesTaught(tx, profiles);
  const usesBefore = await tx.rides.listRecorderUses(recorders);
  await settleAll(tx, readingIds, changes, teaching.seen);
  const taught = await listConfirmations(tx, sensorIds);
  const following = (await tx.rides.listCarrying(sensorIds)).filter(
    ({ sensorId, start }) =>
      bikeOfSensor(taughtBefore.get(sensorId) ?? [], start) !==
      bikeOfSensor(taught.get(sensorId) ?? [], start),
  );
  const byProfile = await listFollowing(tx, profiles, profilesBefore);
  const byRecorder = await followRecorders(tx, recorders, usesBefore);
  await settleAll(
    tx,
    [...new Set([...following.map((one) => one.readingId), ...byProfile, ...byRecorder])],
    changes,
  );
  return [...(await tx.rides.listOfReadings(readingIds))];
}

/** What recordings say, and what is known of bikes to tell theirs. */
interface Seen {
  readonly parts: readonly Part[];
  readonly known: BikeKnowledge;
}

async function see(tx: Tx, readingIds: readonly string[]): Promise<Seen> {
  const parts = await listParts(tx, readingIds);
  return { parts, known: await gatherBikes(tx, parts) };
}

function* someOf(ids: readonly string[]): Generator<readonly string[]> {
  for (let i = 0; i < ids.length; i += READINGS_AT_ONCE) yield ids.slice(i, i + READINGS_AT_ONCE);
}

/** Returns the recorders that wrote them, each once. */
export async function listRecorders(tx: Tx, readingIds: readonly string[]): Promise<string[]> {
  const recorders = new Set<string>();
  for (const { recorder } of (await tx.readings.listMarks(readingIds)).values())
    if (recorder !== null) recorders.add(recorder);
  return [...recorders];
}

/** Returns the recordings of which their recorder now says another rider, or none, than it did before. */
export async function followRecorders(
  tx: Tx,
  recorders: readonly string[],
  before: ReadonlyMap<string, readonly RecorderUse[]>,
): Promise<string[]> {
  const after = await tx.rides.listRecorderUses(recorders);
  const following: string[] = [];
  for (const recorder of recorders) {
    const [was, is] = [before.get(recorder) ?? [], after.get(recorder) ?? []];
    const [wordWas, wordIs] = [wordOfRecorder(was), wordOfRecorder(is)];
    if (wordWas?.riderId === wordIs?.riderId && wordWas?.until === wordIs?.until) continue;
    for (const { readingId, start } of await tx.rides.listUnnamedOfRecorder(recorder))
      if (riderOfRecorder(was, start) !== riderOfRecorder(is, start)) following.push(readingId);
  }
  return following;
}

/** What the readings may teach: their sensors, recorders and profiles. Of few readings also what was seen of them. */
interface WhatTeaches {
  readonly sensorIds: readonly string[];
  readonly recorders: readonly string[];
  readonly profiles: readonly OfProfile[];
  readonly seen: Seen | null;
}

async function listTeaching(tx: Tx, readingIds: readonly string[]): Promise<WhatTeaches> {
  const [sensorIds, recorders] = [new Set<string>(), new Set<string>()];
  const profiles = new Map<string, OfProfile>();
  let seen: Seen | null = null;
  for (const some of someOf(readingIds)) {
    seen = await see(tx, some);
    for (const id of seen.parts.flatMap((part) => bikeSensorsOf(part.reading))) sensorIds.add(id);
    for (const id of recordersOf(seen.parts)) recorders.add(id);
    for (const one of await listProfiles(tx, seen)) profiles.set(profileKey(one.riderId, one.profile), one);
  }
  return {
    ...{ sensorIds: [...sensorIds], recorders: [...recorders], profiles: [...profiles.values()] },
    seen: readingIds.length > READINGS_AT_ONCE ? null : seen,
  };
}

/** Whose profiles of which name the readings carry, as they stood and as they will. */
async function listProfiles(tx: Tx, { parts, known }: Seen): Promise<OfProfile[]> {
  const carrying = parts.filter((part) => profileOf(part.reading) !== null);
  if (carrying.length === 0) return [];
  const stored = new Map(
    (await tx.rides.listParts(carrying.map((part) => part.readingId))).map((one) => [one.readingId, one]),
  );
  return carrying.flatMap((part) =>
    [stored.get(part.readingId)?.riderId, ownPlaceOf(part, known).riderId].flatMap((riderId) =>
      riderId ? [{ riderId, profile: profileOf(part.reading)! }] : [],
    ),
  );
}

/** Returns the recordings whose profile now stands for another bike than before. */
async function listFollowing(
  tx: Tx,
  profiles: readonly OfProfile[],
  before: Awaited<ReturnType<typeof profilesTaught>>,
): Promise<string[]> {
  const after = await profilesTaught(tx, profiles);
  const following: string[] = [];
  for (const { riderId, profile } of profiles) {
    const key = profileKey(riderId, profile);
    const [was, is] = [before.get(key) ?? [], after.get(key) ?? []];
    for (const part of await tx.rides.listOfProfile(riderId, profile))
      if (part.namedBikeId === null && bikeOfProfile(was, part.start!) !== bikeOfProfile(is, part.start!))
        following.push(part.readingId);
  }
  return following;
}

async function settleAll(
  tx: Tx,
  readingIds: readonly string[],
  changes: RideChanges,
  seen: Seen | null = null,
): Promise<void> {
  for (const some of someOf(readingIds))
    await settleTouched(tx, some, changes, seen ?? (await see(tx, some)));
}

/** Adds the rides as they stood and as they stand to `changes`. */
async function settleTouched(
  tx: Tx,
  changed: readonly string[],
  changes: RideChanges,
  first: Seen,
): Promise<void> {
  const { timeZone } = await getWorkshop(tx);
  const weights = await getWeights(tx);
  const touched = new Set(changed);
  const near = new Set<string>();
  let fresh = [...touched];
  let seen = first;
  for (;;) {
    for (const id of await nearOf(tx, fresh, seen)) near.add(id);
    const stored = await tx.rides.listOfReadings([...near]);
    // A ride is seen whole or not at all: which of two waits depends on all their recordings.
    for (const id of stored.flatMap((ride) => ride.readingIds)) near.add(id);
    if (near.size > seen.parts.length) seen = await see(tx, [...near]);
    const { parts, known } = seen;
    const rides = settleRides(parts, known, weights);
    fresh = listFresh(touched, [rides, stored]);
    for (const id of fresh) touched.add(id);
    if (fresh.length > 0) {
      seen = await see(tx, fresh);
      continue;
    }
    const isTouched = (ride: Ride): boolean => ride.readingIds.some((id) => touched.has(id));
    const result = rides.filter(isTouched);
    const replaced = stored.filter(isTouched);
    const kept = new Set(result.map((ride) => ride.id));
    const rows = result.map((ride) => rowOf(ride, timeZone));
    await tx.rides.put(rows, partRowsOf(result, parts, known));
    await tx.rides.remove(replaced.map((ride) => ride.id).filter((id) => !kept.has(id)));
    changes.add(replaced, rows);
    for (const ride of [...result, ...replaced])
      for (const bikeId of await bikesOf(tx, ride)) changes.bikeIds.add(bikeId);
    return;
  }
}

/** The bike of a ride; where it has none yet, all of its rider's: it says how far that rider's files are known. */
async function bikesOf(tx: Tx, { bikeId, riderId }: Ride | RideRow): Promise<readonly string[]> {
  if (bikeId !== null) return [bikeId];
  if (riderId === null) return [];
  return (await tx.facts.list('bike', { object: riderId })).map((bike) => bike.entityId);
}

/** Whoever shares a ride with a touched reading, or goes by such a ride or is in doubt beside it, is touched too. */
function listFresh(touched: ReadonlySet<string>, settlings: readonly (readonly Ride[])[]): string[] {
  const fresh = new Set<string>();
  for (const rides of settlings) {
    const isTouched = (ride: Ride): boolean => ride.readingIds.some((id) => touched.has(id));
    const touchedRides = new Set(rides.filter(isTouched).map((ride) => ride.id));
    for (const ride of rides) {
      const goesBy = ride.otherRideId !== null && touchedRides.has(ride.otherRideId);
      if (!touchedRides.has(ride.id) && !goesBy) continue;
      for (const id of ride.readingIds) if (!touched.has(id)) fresh.add(id);
    }
  }
  return [...fresh];
}

/**
 * Returns the readings and all others of their riders and bikes near enough in time to be held against them; also of
 * where they stood before: what was in doubt beside them is so no longer.
 */
export const listNear = async (tx: Tx, readingIds: readonly string[]): Promise<Set<string>> =>
  nearOf(tx, readingIds, await see(tx, readingIds));

async function nearOf(tx: Tx, readingIds: readonly string[], { parts, known }: Seen): Promise<Set<string>> {
  const near = new Set(readingIds);
  const places = [...parts.map((part) => ownPlaceOf(part, known)), ...(await tx.rides.listParts(readingIds))];
  for (const { riderId, bikeId, start, end } of places) {
    if (start === null || end === null) continue;
    const reach = LARGEST_SHIFT_MS + CLOCK_SKEW_MS;
    const window = [instant(start - reach), instant(end + reach)] as const;
    for (const id of await tx.rides.listNear({ riderId, bikeId }, ...window)) near.add(id);
  }
  return near;
}
