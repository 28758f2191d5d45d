/** Rides as rows, derived again from what is stored of them: no reading is opened. */

import { setImmediate } from 'node:timers/promises';
import { dayOf } from '../../core/days/calendar.js';
import type { Bike, Weights } from '../../core/ledger/ledger.js';
import { weighRide } from '../../core/ledger/rideWeight.js';
import type { RideRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';
import { getWeights, getWorkshop } from '../settings.js';
import { getBike } from '../unitLedger.js';
import { handRideOf } from './handRide.js';

const ROWS_AT_ONCE = 500;

/** Weighs every ride anew and gives it its day in the workshop's zone, some at a time however many there are. */
export async function deriveAllRides(tx: Tx): Promise<void> {
  const { timeZone } = await getWorkshop(tx);
  const weights = await getWeights(tx);
  const bikes = new Map(
    (await tx.facts.list('bike')).map((fact) => [fact.entityId, { id: fact.entityId, ...fact.body }]),
  );
  let after = '';
  for (;;) {
    const rides = await tx.rides.page(after, ROWS_AT_ONCE);
    const recorded = rides.filter((ride) => ride.source === 'recorded');
    await tx.rides.reweigh(
      recorded
        .map((ride) => ({
          ...reweighed(ride, bikes, weights),
          day: ride.start === null ? null : dayOf(ride.start, timeZone),
        }))
        .filter((ride, i) => !isAsBefore(ride, recorded[i]!)),
    );
    await deriveEntries(
      tx,
      rides.filter((ride) => ride.source === 'hand').map((ride) => ride.id),
    );
    if (rides.length < ROWS_AT_ONCE) return;
    after = rides.at(-1)!.id;
    // Others who only read go on meanwhile.
    await setImmediate();
  }
}

const isAsBefore = (a: RideRow, b: RideRow): boolean =>
  a.groundMs === b.groundMs && a.terrainMs === b.terrainMs && a.severity === b.severity && a.day === b.day;

/** Returns the ride as it would weigh on its bike with other weights. */
export const reweighed = (ride: RideRow, bikes: ReadonlyMap<string, Bike>, weights: Weights): RideRow => ({
  ...ride,
  ...weighRide(ride, ride.bikeId === null ? undefined : bikes.get(ride.bikeId), weights),
});

/** Derives hand-entered riding again from its facts; what has none any more goes. */
export async function deriveEntries(tx: Tx, entryIds: Iterable<string>): Promise<void> {
  const weights = await getWeights(tx);
  const { timeZone } = await getWorkshop(tx);
  for (const id of entryIds) {
    const ride = await entryOf(tx, id, weights, timeZone);
    if (ride) await tx.rides.put([ride]);
    else await tx.rides.remove([id]);
  }
}

async function entryOf(tx: Tx, id: string, weights: Weights, zone: string): Promise<RideRow | null> {
  const fact = await tx.facts.current('hours', id);
  return fact ? handRideOf(fact, await getBike(tx, fact.body.bikeId), weights, zone) : null;
}
