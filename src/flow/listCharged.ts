import { chargedRides } from '../core/hours.js';
import { CLAMP, FLEET_CLAMP } from '../core/weight.js';
import type { RideRow, Tx } from '../ports.js';
import { DAY_MS, type Instant, instant, type Seconds, type Thousandths } from '../units.js';
import { getWorkshop } from './settings.js';
import { getUnitLedger } from './unitLedger.js';

/** A ride with what it added to one unit. */
export interface Charged {
  readonly ride: RideRow;
  readonly bikeName: string;
  readonly movingS: Seconds;
  readonly terrainMs: Thousandths;
}

/** Returns the unit's latest rides, newest first. */
export async function listCharged(tx: Tx, unitId: string, now: Instant, most: number): Promise<Charged[]> {
  const { timeZone } = await getWorkshop(tx);
  const { unit, fittings, bikes } = await getUnitLedger(tx, unitId, timeZone);
  for (const days of [90, 366, null]) {
    const from = instant(days === null ? 0 : now - days * DAY_MS);
    const rides = new Map<string, RideRow>();
    for (const bikeId of bikes.keys())
      for (const ride of await tx.rides.listCounted(bikeId, from)) rides.set(ride.id, ride);
    const charged = chargedRides({
      fittings,
      rides: [...rides.values()].map(({ id, bikeId, start, movingS, terrainMs }) => ({
        id,
        bikeId: bikeId!,
        start: start!,
        movingS,
        terrainMs,
      })),
      factor: unit.factor,
      clampOf: (bikeId) => (bikes.get(bikeId)?.fleetId ? FLEET_CLAMP : CLAMP),
      now,
    });
    if (charged.length < most && days !== null) continue;
    return charged
      .slice(-most)
      .reverse()
      .map(({ rideId, bikeId, movingS, terrainMs }) => ({
        ride: rides.get(rideId)!,
        bikeName: bikes.get(bikeId)!.name,
        movingS,
        terrainMs,
      }));
  }
  return [];
}
