import { type ChargedRide, chargedRides } from '../core/hours.js';
import { CLAMP, FLEET_CLAMP } from '../core/weight.js';
import type { RideRow, Tx } from '../ports.js';
import { DAY_MS, type Instant, instant, type Seconds, type Thousandths } from '../units.js';
import { toCounted } from './refreshDue.js';
import { getWorkshop } from './settings.js';
import { getUnitLedger, type UnitLedger } from './unitLedger.js';

/** A ride with what it added to one unit. */
export interface Charged {
  readonly ride: RideRow;
  readonly bikeName: string;
  readonly movingS: Seconds;
  readonly terrainMs: Thousandths;
}

/** What rides added to one unit, oldest first, and the rides themselves by id. */
export interface AllCharged {
  readonly charged: readonly ChargedRide[];
  readonly rides: ReadonlyMap<string, RideRow>;
}

/** Returns the unit's latest rides, newest first. */
export async function listCharged(tx: Tx, unitId: string, now: Instant, most: number): Promise<Charged[]> {
  const { timeZone } = await getWorkshop(tx);
  const ledger = await getUnitLedger(tx, unitId, timeZone);
  for (const days of [90, 366, null]) {
    const from = instant(days === null ? 0 : now - days * DAY_MS);
    const { charged, rides } = await listFrom(tx, ledger, from, now);
    if (charged.length < most && days !== null) continue;
    return charged
      .slice(-most)
      .reverse()
      .map(({ rideId, bikeId, movingS, terrainMs }) => ({
        ride: rides.get(rideId)!,
        bikeName: ledger.bikes.get(bikeId)!.name,
        movingS,
        terrainMs,
      }));
  }
  return [];
}

/** Returns all that was ever charged to the unit. */
export async function listAllCharged(tx: Tx, unitId: string, now: Instant): Promise<AllCharged> {
  const { timeZone } = await getWorkshop(tx);
  return listFrom(tx, await getUnitLedger(tx, unitId, timeZone), instant(0), now);
}

async function listFrom(
  tx: Tx,
  { unit, fittings, bikes }: UnitLedger,
  from: Instant,
  now: Instant,
): Promise<AllCharged> {
  const rides = new Map<string, RideRow>();
  for (const bikeId of bikes.keys())
    for (const ride of await tx.rides.listCounted(bikeId, from)) rides.set(ride.id, ride);
  const charged = chargedRides({
    fittings,
    rides: [...rides.values()].map(toCounted),
    factor: unit.factor,
    clampOf: (bikeId) => (bikes.get(bikeId)?.fleetId ? FLEET_CLAMP : CLAMP),
    now,
  });
  return { charged, rides };
}
