import type { RideRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';

/** What a file that was taken became. */
export interface TakenRides {
  readonly rides: readonly RideRow[];
  /** The name of the bike of the first of them. */
  readonly bike: string | null;
}

export async function getTakenRides(tx: Tx, ids: readonly string[]): Promise<TakenRides> {
  const rides: RideRow[] = [];
  for (const id of ids) {
    const ride = await tx.rides.find(id);
    if (ride) rides.push(ride);
  }
  const bikeId = rides[0]?.bikeId ?? null;
  const bike = bikeId === null ? undefined : await tx.facts.current('bike', bikeId);
  return { rides, bike: bike?.body.name ?? null };
}
