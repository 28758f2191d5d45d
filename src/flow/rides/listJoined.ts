/** What joining recordings took away and which rides cover others, to be looked over by a person. */
import { lengthOf, type Stretch, without } from '../../core/ground/samples/intervals.js';
import { moved, type Recorded, recordedOf } from '../../core/rides/joinRecordings.js';
import type { RideRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';
import { MINUTE_MS } from '../../units.js';
import { listParts } from './bikeKnowledge.js';
import { listChargesOf } from './rideChanges.js';

/** What a unit is charged with by rides of several recordings, and what these alone would give. Units: seconds. */
export interface JoinedCharge {
  readonly unit: string;
  readonly movingS: number;
  readonly aloneS: number;
}

/** A ride in which one recording lies over others that have nothing to do with one another. */
export interface CoveringRide {
  readonly ride: string;
  readonly file: string;
  readonly covers: readonly string[];
}

export interface JoinedRides {
  readonly charges: readonly JoinedCharge[];
  readonly covering: readonly CoveringRide[];
}

/** Returns both, over all rides of several recordings. */
export async function listJoined(tx: Tx): Promise<JoinedRides> {
  const charges = new Map<string, { movingS: number; aloneS: number }>();
  const covering: CoveringRide[] = [];
  for (const id of await tx.rides.listIdsOfSeveral()) {
    const ride = (await tx.rides.find(id))!;
    const recordings = await alignedOf(tx, ride);
    covering.push(...(await coveringOf(tx, ride, recordings)));
    const aloneS = recordings.reduce((sum, one) => sum + one.movingS, 0);
    for (const tag of await listChargesOf(tx, ride)) {
      const sum = charges.get(tag) ?? { movingS: 0, aloneS: 0 };
      charges.set(tag, { movingS: sum.movingS + ride.movingS, aloneS: sum.aloneS + aloneS });
    }
  }
  const byTag = [...charges].sort(([a], [b]) => (a < b ? -1 : 1));
  return { charges: byTag.map(([unit, sum]) => ({ unit, ...sum })), covering };
}

async function alignedOf(tx: Tx, { readingIds, shiftsMs }: RideRow): Promise<Recorded[]> {
  const parts = await listParts(tx, readingIds);
  return readingIds.map((id, i) =>
    moved(recordedOf(parts.find((part) => part.readingId === id)!), shiftsMs[i]!),
  );
}

async function coveringOf(tx: Tx, ride: RideRow, recordings: readonly Recorded[]): Promise<CoveringRide[]> {
  const longest = [...recordings].sort((a, b) => b.movingS - a.movingS)[0]!;
  const under = recordings.filter(
    (one) => one !== longest && togetherMs(longest.moving, one.moving) > MINUTE_MS,
  );
  const areApart = under.some((a) =>
    under.some((b) => a !== b && togetherMs(a.moving, b.moving) <= MINUTE_MS),
  );
  if (!areApart) return [];
  const names = await namesOf(
    tx,
    recordings.map((one) => one.part.readingId),
  );
  const nameOf = (one: Recorded): string => names.get(one.part.readingId) ?? one.part.readingId;
  return [{ ride: ride.id, file: nameOf(longest), covers: under.map(nameOf) }];
}

async function namesOf(tx: Tx, readingIds: readonly string[]): Promise<Map<string, string>> {
  const rows = await tx.readings.getMany(readingIds);
  const arrivals = await tx.files.listArrivals([...new Set(rows.map((row) => row.fileId))]);
  return new Map(rows.map((row) => [row.id, arrivals.find((one) => one.fileId === row.fileId)?.name ?? '']));
}

const togetherMs = (a: readonly Stretch[], b: readonly Stretch[]): number =>
  lengthOf(a) - lengthOf(without(a, b));
