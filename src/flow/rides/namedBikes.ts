import type { RideRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';

/** Returns by ride the bikes that its files were handed over for; empty where no bike was named. */
export async function listNamedBikes(
  tx: Tx,
  rides: readonly RideRow[],
): Promise<ReadonlyMap<string, readonly string[]>> {
  const readings = await tx.readings.getMany(rides.flatMap((ride) => ride.readingIds));
  const fileOf = new Map(readings.map((one) => [one.id, one.fileId]));
  const arrivals = await tx.files.listArrivals([...new Set(fileOf.values())]);
  return new Map(
    rides.map((ride) => {
      const fileIds = new Set(ride.readingIds.map((id) => fileOf.get(id)));
      const named = arrivals.filter((one) => fileIds.has(one.fileId)).map((one) => one.bikeId);
      return [ride.id, [...new Set(named)].filter((bikeId) => bikeId !== null)];
    }),
  );
}
