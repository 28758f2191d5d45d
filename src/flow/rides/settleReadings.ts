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
  const sensorIds = await listSensors(tx, readingIds);
  const taughtBefore = await listConfirmations(tx, sensorIds);
  const profiles = await listProfiles(tx, readingIds);
  const profilesBefore = await profilesTaught(tx, profiles);
  const recorders = await listRecorders(tx, readingIds);
  const usesBefore = await tx.rides.listRecorderUses(recorders);
  await settleAll(tx, readingIds, changes);
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

function* someOf(ids: readonly string[]): Generator<readonly string[]> {
  for (let i = 0; i < ids.length; i += READINGS_AT_ONCE) yield ids.slice(i, i + READINGS_AT_ONCE);
}

async function listSensors(tx: Tx, readingIds: readonly string[]): Promise<string[]> {
  const sensorIds = new Set<string>();
  for (const some of someOf(readingIds))
    for (const { reading } of await tx.readings.getMany(some))
      for (const id of bikeSensorsOf(reading)) sensorIds.add(id);
  return [...sensorIds];
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

/** Whose profiles of which name the readings carry, as they stood and as they will. */
async function listProfiles(tx: Tx, readingIds: readonly string[]): Promise<OfProfile[]> {
  const found = new Map<string, OfProfile>();
  for (const some of someOf(readingIds)) {
    const parts = (await listParts(tx, some)).filter((part) => profileOf(part.reading) !== null);
    if (parts.length === 0) continue;
    const known = await gatherBikes(tx, parts);
    const stored = new Map(
      (await tx.rides.listParts(parts.map((part) => part.readingId))).map((one) => [one.readingId, one]),
    );
    for (const part of parts)
      for (const riderId of [stored.get(part.readingId)?.riderId, ownPlaceOf(part, known).riderId])
        if (riderId) {
          const one = { riderId, profile: profileOf(part.reading)! };
          found.set(profileKey(one.riderId, one.profile), one);
        }
  }
  return [...found.values()];
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

async function settleAll(tx: Tx, readingIds: readonly string[], changes: RideChanges): Promise<void> {
  for (const some of someOf(readingIds)) await settleTouched(tx, some, changes);
}

/** Adds the rides as they stood and as they stand to `changes`. */
async function settleTouched(tx: Tx, changed: readonly string[], changes: RideChanges): Promise<void> {
  const { timeZone } = await getWorkshop(tx);
  const weights = await getWeights(tx);
  const touched = new Set(changed);
  const near = new Set<string>();
  let fresh = [...touched];
  for (;;) {
    for (const id of await listNear(tx, fresh)) near.add(id);
    const stored = await tx.rides.listOfReadings([...near]);
    // A ride is seen whole or not at all: which of two waits depends on all their recordings.
    for (const id of stored.flatMap((ride) => ride.readingIds)) near.add(id);
    const parts = await listParts(tx, [...near]);
    const known = await gatherBikes(tx, parts);
    const rides = settleRides(parts, known, weights);
    fresh = listFresh(touched, [rides, stored]);
    for (const id of fresh) touched.add(id);
    if (fresh.length > 0) continue;
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
export async function listNear(tx: Tx, readingIds: readonly string[]): Promise<Set<string>> {
  const near = new Set(readingIds);
  const parts = await listParts(tx, readingIds);
  const known = await gatherBikes(tx, parts);
  const places = [...parts.map((part) => ownPlaceOf(part, known)), ...(await tx.rides.listParts(readingIds))];
  for (const { riderId, bikeId, start, end } of places) {
    if (start === null || end === null) continue;
    const reach = LARGEST_SHIFT_MS + CLOCK_SKEW_MS;
    const window = [instant(start - reach), instant(end + reach)] as const;
    for (const id of await tx.rides.listNear({ riderId, bikeId }, ...window)) near.add(id);
  }
  return near;
}
