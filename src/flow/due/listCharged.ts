import { type Landings, landingsTogether } from '../../core/ground/samples/landings.js';
import { type ChargedRide, chargedRides } from '../../core/ledger/hours.js';
import type { CountedRide } from '../../core/ledger/ledger.js';
import { clampOn } from '../../core/ledger/weight.js';
import type { RideHoursRow, RideRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';
import { type Instant, instant, type Seconds, type Thousandths } from '../../units.js';
import { listDeclared, listUnrecorded, toCountedRides, toDeclaredRides } from '../rides/countedRides.js';
import type { UnitLedger } from '../unitLedger.js';

/** A ride with what it added to one unit. */
export interface Charged {
  readonly ride: RideRow;
  readonly bikeName: string;
  readonly movingS: Seconds;
  readonly terrainMs: Thousandths;
}

/** What rides added to one unit, oldest first, and the rides by id; what went unrecorded or is declared is none of them. */
export interface AllCharged {
  readonly charged: readonly ChargedRide[];
  readonly rides: ReadonlyMap<string, RideHoursRow>;
}

/** Returns the unit's latest rides, newest first; no others are read. */
export async function listCharged(
  tx: Tx,
  ledger: UnitLedger,
  now: Instant,
  most: number,
): Promise<Charged[]> {
  const rides: RideRow[] = [];
  for (const { bikeId, from, until } of timesOn(ledger, now).reverse()) {
    if (rides.length >= most) break;
    const left = most - rides.length;
    rides.push(...(await tx.rides.listLatestCounted(bikeId, { from, until, most: left })));
  }
  const byId = new Map(rides.map((ride) => [ride.id, ride]));
  return charge(ledger, toCountedRides(rides, []), now)
    .reverse()
    .map(({ rideId, bikeId, movingS, terrainMs }) => ({
      ride: byId.get(rideId)!,
      bikeName: ledger.bikes.get(bikeId)!.name,
      movingS,
      terrainMs,
    }));
}

/** Returns all that was charged to the unit, ever or since. */
export async function listAllCharged(
  tx: Tx,
  ledger: UnitLedger,
  now: Instant,
  since = instant(0),
): Promise<AllCharged> {
  const rides = new Map<string, RideHoursRow>();
  for (const { bikeId, from, until } of timesOn(ledger, now)) {
    if (until <= since) continue;
    const begin = instant(Math.max(from, since));
    for (const ride of await tx.rides.listCountedHours(bikeId, begin, until)) rides.set(ride.id, ride);
  }
  const unrecorded = await listUnrecorded(tx, ledger.bikes.keys(), ledger.zone);
  const declared = await listDeclared(tx, ledger.bikes.values(), now, ledger.zone);
  const counted = [
    ...toCountedRides([...rides.values()], unrecorded),
    ...toDeclaredRides(declared, since, now),
  ];
  return { charged: charge(ledger, counted, now), rides };
}

interface TimeOn {
  readonly bikeId: string;
  readonly from: Instant;
  /** The first moment after it. */
  readonly until: Instant;
}

/** Returns the landings of the rides that were charged to the unit since a moment; null where none recorded any. */
export async function sumLandings(
  tx: Tx,
  ledger: UnitLedger,
  now: Instant,
  since: Instant,
): Promise<Landings | null> {
  const felt: (Landings | undefined)[] = [];
  for (const { bikeId, from, until } of timesOn(ledger, now)) {
    if (until <= since) continue;
    const rides = await tx.rides.listCounted(bikeId, instant(Math.max(from, since)));
    felt.push(...rides.filter(({ start }) => start! < until).map(({ terrain }) => terrain?.landings));
  }
  return landingsTogether(felt);
}

/** When the unit was on which bike until now, oldest first. */
const timesOn = ({ fittings }: UnitLedger, now: Instant): TimeOn[] =>
  fittings
    .map(({ bikeId, from, to }) => ({ bikeId, from, until: instant(Math.min(to ?? now + 1, now + 1)) }))
    .filter(({ from, until }) => from < until)
    .sort((a, b) => a.from - b.from);

const charge = (
  { unit, fittings, bikes }: UnitLedger,
  rides: readonly CountedRide[],
  now: Instant,
): ChargedRide[] =>
  chargedRides({
    ...{ fittings, rides, now },
    factor: unit.factor,
    clampOf: (bikeId, at) => clampOn(bikes.get(bikeId), at),
  });
