import { dayOf } from '../core/calendar.js';
import { LARGEST_SHIFT_MS } from '../core/sameRide.js';
import { namedBikeOf, type Part, type Ride, settleRides, startOf } from '../core/settle.js';
import type { RidePart, RideRow, Tx } from '../ports.js';
import { type Instant, instant, MINUTE_MS } from '../units.js';
import { bikeSensorsOf, gatherBikes, listParts } from './bikeKnowledge.js';
import { recountBikes } from './refreshDue.js';
import { getWeights, getWorkshop } from './settings.js';

/** A ride as a row of the store. */
export const rowOf = (ride: Ride, zone: string): RideRow => ({
  ...ride,
  source: 'recorded',
  day: ride.start === null ? null : dayOf(ride.start, zone),
});

export const partRowsOf = (rides: readonly Ride[], parts: readonly Part[]): RidePart[] => {
  const rideIds = new Map(rides.flatMap((ride) => ride.readingIds.map((id) => [id, ride.id] as const)));
  return parts
    .filter((part) => rideIds.has(part.readingId))
    .map((part) => ({
      readingId: part.readingId,
      rideId: rideIds.get(part.readingId)!,
      start: startOf(part),
      namedBikeId: namedBikeOf(part),
    }));
};

/**
 * Settles the rides of these readings and of all that they touch, and recounts every unit whose rides changed.
 * Returns the rides that hold the readings. What a person named may teach a sensor; other rides that carry it follow.
 */
export async function settleReadings(
  tx: Tx,
  readingIds: readonly string[],
  now: Instant,
): Promise<RideRow[]> {
  const bikeIds = new Set<string>();
  const taughtBefore = await listTeaching(tx, readingIds);
  await settleTouched(tx, readingIds, bikeIds);
  const taught = new Set([...taughtBefore, ...(await listTeaching(tx, readingIds))]);
  const carrying = await tx.rides.listPartsWithSensors([...taught]);
  const waiting = new Set(carrying.filter((part) => part.namedBikeId === null).map((part) => part.readingId));
  if (waiting.size > 0) await settleTouched(tx, [...waiting], bikeIds);
  await recountBikes(tx, bikeIds, now);
  return [...(await tx.rides.listOfReadings(readingIds))];
}

/** The sensors that the readings teach, for a person named their bike, as they stand settled. */
async function listTeaching(tx: Tx, readingIds: readonly string[]): Promise<Set<string>> {
  const ids = new Set(readingIds);
  const readings = await tx.readings.getMany(readingIds);
  const sensorIds = new Set(readings.flatMap(({ reading }) => bikeSensorsOf(reading)));
  const carrying = await tx.rides.listPartsWithSensors([...sensorIds]);
  const teaching = carrying.filter((part) => part.namedBikeId !== null && ids.has(part.readingId));
  return new Set(teaching.map((part) => part.sensorId));
}

/** Adds the bikes whose rides changed to `bikeIds`. */
async function settleTouched(tx: Tx, changed: readonly string[], bikeIds: Set<string>): Promise<void> {
  const { timeZone } = await getWorkshop(tx);
  const weights = await getWeights(tx);
  const touched = new Set(changed);
  for (;;) {
    const parts = await listNearParts(tx, [...touched]);
    const rides = settleRides(parts, await gatherBikes(tx, parts), weights);
    const stored = await tx.rides.listOfReadings(parts.map((part) => part.readingId));
    const before = touched.size;
    spread(touched, rides);
    spread(touched, stored);
    if (touched.size > before) continue;
    const result = rides.filter((ride) => ride.readingIds.some((id) => touched.has(id)));
    const replaced = stored.filter((ride) => ride.readingIds.some((id) => touched.has(id)));
    const kept = new Set(result.map((ride) => ride.id));
    await tx.rides.put(
      result.map((ride) => rowOf(ride, timeZone)),
      partRowsOf(result, parts),
    );
    await tx.rides.remove(replaced.map((ride) => ride.id).filter((id) => !kept.has(id)));
    for (const { bikeId } of [...result, ...replaced]) if (bikeId !== null) bikeIds.add(bikeId);
    return;
  }
}

/** Whoever shares a ride with a touched reading, or is in doubt beside it, is touched too. */
function spread(touched: Set<string>, rides: readonly Ride[]): void {
  const touchedRides = new Set(
    rides.filter((ride) => ride.readingIds.some((id) => touched.has(id))).map((ride) => ride.id),
  );
  for (const ride of rides) {
    const isDoubted = ride.otherRideId !== null && touchedRides.has(ride.otherRideId);
    if (touchedRides.has(ride.id) || isDoubted) for (const id of ride.readingIds) touched.add(id);
  }
}

/** The readings and all others of their riders and bikes near enough in time to be held against them. */
async function listNearParts(tx: Tx, readingIds: readonly string[]): Promise<Part[]> {
  const own = await listParts(tx, readingIds);
  const starts = own.map(startOf).filter((start) => start !== null);
  if (starts.length === 0) return own;
  const known = await gatherBikes(tx, own);
  const placed = settleRides(own, known, { smooth: 1, typical: 1, rough: 1 });
  const riderIds = new Set(placed.map((ride) => ride.riderId).filter((id) => id !== null));
  const bikeIds = new Set(placed.map((ride) => ride.bikeId).filter((id) => id !== null));
  const ends = placed.map((ride) => ride.end).filter((end) => end !== null);
  const reach = Math.max(await tx.rides.longestMs(), LARGEST_SHIFT_MS) + MINUTE_MS;
  const near = await tx.rides.listNear(
    { riderIds: [...riderIds], bikeIds: [...bikeIds] },
    instant(Math.min(...starts) - reach),
    instant(Math.max(...starts, ...ends) + reach),
  );
  const ids = new Set([...readingIds, ...near.flatMap((ride) => ride.readingIds)]);
  return listParts(tx, [...ids]);
}
