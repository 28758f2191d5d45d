/** What became of rides while something was taken or said, and what that gave to units or took from them. */
import { chargedRides } from '../../core/ledger/hours.js';
import { fittingAt } from '../../core/ledger/ledger.js';
import { CLAMP, clampOn } from '../../core/ledger/weight.js';
import { isCounted } from '../../core/rides/ride.js';
import type { RideRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';
import { hoursOfSeconds, type Instant, type Seconds, seconds, secondsIn } from '../../units.js';
import { getWorkshop } from '../settings.js';
import { getUnitLedger } from '../unitLedger.js';
import { listUnrecorded, toCountedRides } from './countedRides.js';

/** By how much what a unit is charged with changed. */
export interface UnitChange {
  readonly unitId: string;
  readonly tag: string;
  readonly movingS: Seconds;
  /** Units: seconds, to the thousandth. */
  readonly terrainS: number;
}

/** Rides as they stood and as they stand, however often they were settled in between. */
export class RideChanges {
  readonly #before = new Map<string, RideRow | null>();
  readonly #after = new Map<string, RideRow>();
  /** Bikes whose units are counted again. */
  readonly bikeIds = new Set<string>();

  add(replaced: readonly RideRow[], result: readonly RideRow[]): void {
    for (const ride of replaced) {
      if (!this.#before.has(ride.id)) this.#before.set(ride.id, ride);
      this.#after.delete(ride.id);
    }
    for (const ride of result) {
      if (!this.#before.has(ride.id)) this.#before.set(ride.id, null);
      this.#after.set(ride.id, ride);
    }
  }

  get before(): RideRow[] {
    return [...this.#before.values()].filter((ride) => ride !== null);
  }

  get after(): RideRow[] {
    return [...this.#after.values()];
  }
}

/** Returns what each unit was given or lost, those that neither left out, by tag. */
export async function listUnitChanges(tx: Tx, changes: RideChanges, now: Instant): Promise<UnitChange[]> {
  const [before, after] = [changes.before.filter(isCounted), changes.after.filter(isCounted)];
  const found: UnitChange[] = [];
  for (const unitId of await listUnitsOn(tx, [...before, ...after])) {
    const [old, fresh] = [await chargesOf(tx, unitId, before, now), await chargesOf(tx, unitId, after, now)];
    const movingS = seconds(fresh.movingS - old.movingS);
    const terrainMs = fresh.terrainMs - old.terrainMs;
    if (movingS !== 0 || terrainMs !== 0)
      found.push({ unitId, tag: fresh.tag, movingS, terrainS: secondsIn(terrainMs) });
  }
  return found.sort((a, b) => (a.tag < b.tag ? -1 : 1));
}

/** Units that ever were on the bikes of these rides. */
async function listUnitsOn(tx: Tx, rides: readonly RideRow[]): Promise<Set<string>> {
  const unitIds = new Set<string>();
  for (const bikeId of new Set(rides.map((ride) => ride.bikeId!)))
    for (const id of await tx.facts.once(`units on ${bikeId}`, () => unitsOn(tx, bikeId))) unitIds.add(id);
  return unitIds;
}

async function unitsOn(tx: Tx, bikeId: string): Promise<string[]> {
  const unitIds: string[] = [];
  for (const { body } of await tx.facts.list('fitting', { object: bikeId }))
    if (await tx.facts.current('unit', body.unitId)) unitIds.push(body.unitId);
  return unitIds;
}

async function chargesOf(
  tx: Tx,
  unitId: string,
  rides: readonly RideRow[],
  now: Instant,
): Promise<{ readonly tag: string; readonly movingS: number; readonly terrainMs: number }> {
  const { timeZone } = await getWorkshop(tx);
  const { unit, fittings, bikes } = await getUnitLedger(tx, unitId, timeZone);
  const counted = toCountedRides(rides, await listUnrecorded(tx, bikes.keys(), timeZone));
  const clampOf = (bikeId: string, at: Instant) => clampOn(bikes.get(bikeId), at);
  const charged = chargedRides({ fittings, rides: counted, factor: unit.factor, clampOf, now });
  return {
    tag: unit.tag,
    movingS: charged.reduce((sum, ride) => sum + ride.movingS, 0),
    terrainMs: charged.reduce((sum, ride) => sum + ride.terrainMs, 0),
  };
}

/** What a ride gives to which units. */
export interface GivenHours {
  readonly movingS: Seconds;
  readonly tags: readonly string[];
}

/** Returns what a ride that counts gives to units; null where it is none, or does not count. */
export async function findGiven(tx: Tx, rideId: string): Promise<GivenHours | null> {
  const ride = await tx.rides.find(rideId);
  if (!ride || !isCounted(ride)) return null;
  return { movingS: ride.movingS, tags: await listChargesOf(tx, ride) };
}

/** Returns the tags of the units that a ride is charged to. */
export async function listChargesOf(tx: Tx, ride: RideRow): Promise<string[]> {
  const { timeZone } = await getWorkshop(tx);
  const tags: string[] = [];
  for (const unitId of await listUnitsOn(tx, [ride].filter(isCounted))) {
    const { unit, fittings } = await getUnitLedger(tx, unitId, timeZone);
    const isOn = fittings.some(
      (one) => one.bikeId === ride.bikeId && fittingAt([one], ride.start!) !== undefined,
    );
    if (isOn) tags.push(unit.tag);
  }
  return tags;
}

/** Returns which of these rides are charged to a unit. */
export async function listChargedOf(tx: Tx, rides: readonly RideRow[], now: Instant): Promise<Set<string>> {
  const counted = rides.filter(isCounted);
  const { timeZone } = await getWorkshop(tx);
  const charged = new Set<string>();
  for (const unitId of await listUnitsOn(tx, counted)) {
    const { fittings } = await getUnitLedger(tx, unitId, timeZone);
    const options = {
      fittings,
      rides: toCountedRides(counted, []),
      factor: 1,
      clampOf: () => CLAMP,
      now,
    };
    for (const { rideId } of chargedRides(options)) charged.add(rideId);
  }
  return charged;
}

/** Returns the changes as people read them: `F-0101 +1.8 h`. */
export const changesText = (changes: readonly Pick<UnitChange, 'tag' | 'movingS'>[]): string =>
  changes
    .filter(({ movingS }) => movingS !== 0)
    .map(
      ({ tag, movingS }) =>
        `${tag} ${movingS > 0 ? '+' : '−'}${Math.abs(hoursOfSeconds(movingS)).toFixed(1)} h`,
    )
    .join(', ');
