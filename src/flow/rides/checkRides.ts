/** The rides as they are stored, held against what all recordings and hand-entered hours make of them. */

import { canonical } from '../../core/canonical.js';
import type { Bike, Weights } from '../../core/ledger/ledger.js';
import type { BikeKnowledge, SensorConfirmation } from '../../core/rides/attribution.js';
import { nearSets } from '../../core/rides/nearInTime.js';
import { type RecorderUse, usesOf } from '../../core/rides/recorder.js';
import {
  namedBikeOf,
  namedRiderOf,
  ownPlaceOf,
  profileOf,
  recorderOf,
  settleRides,
} from '../../core/rides/settle.js';
import type { SayLeft } from '../../ports/loops.js';
import type { RidePart } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { getWeights, getWorkshop } from '../settings.js';
import { bikeOf, getBike } from '../unitLedger.js';
import { bikeSensorsOf, gatherBikes, listParts, profileKey } from './bikeKnowledge.js';
import { handRideOf } from './handRide.js';
import { partRowsOf, rowOf } from './settleReadings.js';

/** Readings hold profiles, so that of a large ledger only some are in memory at a time. */
const READINGS_AT_ONCE = 200;

/** What every part of the check needs. */
interface Known {
  readonly zone: string;
  readonly weights: Weights;
  readonly bikes: ReadonlyMap<string, Bike>;
  /** What teaches a sensor, from the recordings themselves and not from what was stored about them. */
  readonly confirmations: ReadonlyMap<string, readonly SensorConfirmation[]>;
  /** What a rider's profile stands for, by `profileKey`. */
  readonly profiles: ReadonlyMap<string, readonly SensorConfirmation[]>;
  /** Whose recorders are. */
  readonly uses: ReadonlyMap<string, readonly RecorderUse[]>;
}

/** Returns where the stored rides are not those that the facts make; some readings are looked at a time. */
export async function rideDifferences(tx: Tx, told: SayLeft): Promise<string[]> {
  const bikes = new Map((await tx.facts.list('bike')).map((fact) => [fact.entityId, bikeOf(fact)]));
  const known: Known = {
    zone: (await getWorkshop(tx)).timeZone,
    weights: await getWeights(tx),
    bikes,
    ...(await confirmationsOf(tx)),
  };
  const differences: string[] = [];
  const rebuilt = new Set<string>();
  let left = (await tx.readings.listIds()).length;
  for await (const some of batches(tx)) {
    await told('making rides again of their recordings', left);
    left -= some.length;
    const { rides, faults } = await settleSome(tx, some, known);
    for (const id of rides) rebuilt.add(id);
    differences.push(...faults);
  }
  for (const fact of await tx.facts.list('hours')) {
    rebuilt.add(fact.entityId);
    const ride = handRideOf(fact, await getBike(tx, fact.body.bikeId), known.weights, known.zone);
    differences.push(...differenceOf('ride', fact.entityId, ride, await tx.rides.find(fact.entityId)));
  }
  for (const id of await tx.rides.listIds())
    if (!rebuilt.has(id)) differences.push(`ride ${id} stands on no fact`);
  return differences;
}

async function confirmationsOf(tx: Tx): Promise<Pick<Known, 'confirmations' | 'profiles' | 'uses'>> {
  const confirmations = new Map<string, SensorConfirmation[]>();
  const profiles = new Map<string, SensorConfirmation[]>();
  const named = new Map<string, { riderId: string; start: Instant; end: Instant }[]>();
  const ids = await tx.readings.listTeaching();
  for (let i = 0; i < ids.length; i += READINGS_AT_ONCE) {
    const parts = await listParts(tx, ids.slice(i, i + READINGS_AT_ONCE));
    const known = await gatherBikes(tx, parts);
    for (const part of parts) {
      const bikeId = namedBikeOf(part);
      const { riderId, start, end } = ownPlaceOf(part, known);
      if (start === null || end === null) continue;
      const [recorder, namedRider] = [recorderOf(part), namedRiderOf(part, known)];
      if (recorder !== null && namedRider !== null)
        named.set(recorder, [...(named.get(recorder) ?? []), { riderId: namedRider, start, end }]);
      if (bikeId === null) continue;
      for (const sensorId of new Set(bikeSensorsOf(part.reading)))
        confirmations.set(sensorId, [...(confirmations.get(sensorId) ?? []), { bikeId, start, end }]);
      const profile = profileOf(part.reading);
      if (profile === null || riderId === null) continue;
      const key = profileKey(riderId, profile);
      profiles.set(key, [...(profiles.get(key) ?? []), { bikeId, start, end }]);
    }
  }
  const uses = new Map([...named].map(([recorder, rides]) => [recorder, usesOf(rides)]));
  return { confirmations, profiles, uses };
}

/**
 * Yields all readings in lots that have nothing to do with one another, by the places that are stored. A place that is
 * stored wrong may part what belongs together; it is a difference itself, so that nothing wrong passes for sound.
 */
async function* batches(tx: Tx): AsyncGenerator<readonly string[]> {
  const placed = await tx.rides.listParts();
  const isPlaced = new Set(placed.map((part) => part.readingId));
  const others = (await tx.readings.listIds()).filter((id) => !isPlaced.has(id));
  let lot: string[] = [];
  for (const set of [...nearSets(placed), ...others.map((id) => [id])]) {
    if (lot.length > 0 && lot.length + set.length > READINGS_AT_ONCE) {
      yield lot;
      lot = [];
    }
    lot.push(...set);
  }
  if (lot.length > 0) yield lot;
}

/** Returns the rides that the readings make, by id, and what of them is stored otherwise. */
async function settleSome(
  tx: Tx,
  readingIds: readonly string[],
  { zone, weights, bikes, confirmations, profiles, uses }: Known,
): Promise<{ readonly rides: readonly string[]; readonly faults: readonly string[] }> {
  const parts = await listParts(tx, readingIds);
  const known: BikeKnowledge = {
    ...(await gatherBikes(tx, parts)),
    getBike: (bikeId) => bikes.get(bikeId),
    listConfirmations: (sensorId) => confirmations.get(sensorId) ?? [],
    listProfileConfirmations: (riderId, profile) => profiles.get(profileKey(riderId, profile)) ?? [],
    listRecorderUses: (recorder) => uses.get(recorder) ?? [],
  };
  const rides = settleRides(parts, known, weights);
  const faults: string[] = [];
  const stored = await tx.rides.listTexts(readingIds);
  for (const ride of rides) {
    const [row, text] = [rowOf(ride, zone), stored.get(ride.id)];
    // The same text says the same; of another it is looked into.
    if (text === undefined || text !== JSON.stringify(row))
      faults.push(...differenceOf('ride', ride.id, row, text === undefined ? undefined : JSON.parse(text)));
  }
  const links = new Map((await tx.rides.listParts(readingIds)).map((part) => [part.readingId, part]));
  for (const part of partRowsOf(rides, parts, known))
    if (!isSamePart(part, links.get(part.readingId)))
      faults.push(`reading ${part.readingId} stands with another ride than its facts say`);
  return { rides: rides.map((ride) => ride.id), faults };
}

/** Their values are plain. */
function isSamePart(one: RidePart, other: RidePart | undefined): boolean {
  const keys = Object.keys(one) as (keyof RidePart)[];
  return other !== undefined && keys.every((key) => one[key] === other[key]);
}

/** Returns in words how a stored row differs from the rebuilt one; nothing where it does not. */
export function differenceOf<T>(what: string, id: string, rebuilt: T, stored: T | undefined): string[] {
  if (stored === undefined) return [`${what} ${id} is missing`];
  return canonical(stored) === canonical(rebuilt) ? [] : [`${what} ${id} differs from its facts`];
}
