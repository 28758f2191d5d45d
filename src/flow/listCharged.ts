import { type ChargedRide, chargedRides } from '../core/hours.js';
import { CLAMP, FLEET_CLAMP } from '../core/weight.js';
import type { RideRow, Tx } from '../ports.js';
import { DAY_MS, type Instant, instant, type Seconds, type Thousandths } from '../units.js';
import { getWorkshop } from './settings.js';
import { getUnitLedger, type UnitLedger } from './unitLedger.js';
import { listUnrecorded, toCountedRides } from './unrecorded.js';

/** A ride with what it added to one unit. */
export interface Charged {
  readonly ride: RideRow;
  readonly bikeName: string;
  readonly movingS: Seconds;
  readonly terrainMs: Thousandths;
}

/** What rides added to one unit, oldest first, and the rides themselves by id; what went unrecorded has none. */
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
    const { charged: all, rides } = await listFrom(tx, ledger, timeZone, from, now);
    const charged = all.filter(({ rideId }) => rides.has(rideId));
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

/** Returns all that was charged to the unit, ever or since. */
export async function listAllCharged(
  tx: Tx,
  unitId: string,
  now: Instant,
  since = instant(0),
): Promise<AllCharged> {
  const { timeZone } = await getWorkshop(tx);
  return listFrom(tx, await getUnitLedger(tx, unitId, timeZone), timeZone, since, now);
}

async function listFrom(
  tx: Tx,
  { unit, fittings, bikes }: UnitLedger,
  zone: string,
  from: Instant,
  now: Instant,
): Promise<AllCharged> {
  const rides = new Map<string, RideRow>();
  for (const bikeId of bikes.keys())
    for (const ride of await tx.rides.listCounted(bikeId, from)) rides.set(ride.id, ride);
  const charged = chargedRides({
    fittings,
    rides: toCountedRides([...rides.values()], await listUnrecorded(tx, bikes.keys(), zone)),
    factor: unit.factor,
    clampOf: (bikeId) => (bikes.get(bikeId)?.fleetId ? FLEET_CLAMP : CLAMP),
    now,
  });
  return { charged, rides };
}
