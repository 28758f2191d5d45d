/** Which rides change unit, or fall on none, when what is on a bike is said otherwise. */
import type { Fitting } from '../../core/ledger/ledger.js';
import { fittingAt } from '../../core/ledger/ledger.js';
import type { RideHoursRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';
import { type Instant, instant, type Seconds } from '../../units.js';
import { getWorkshop } from '../settings.js';
import { bikeOf, fittingOf } from '../unitLedger.js';
import { type BikePlace, placeOf } from './checkFitting.js';

/** A ride that counts for another unit than before. */
export interface MovedRide {
  readonly rideId: string;
  readonly start: Instant;
  readonly movingS: Seconds;
  readonly bike: string;
  readonly bikeName: string;
  /** Tags; null for none. */
  readonly from: string | null;
  readonly to: string | null;
}

/** What changed, and which rides count for another unit since. */
export interface Moved<T> {
  readonly made: T;
  readonly rides: readonly MovedRide[];
}

interface OnBike {
  readonly rides: readonly RideHoursRow[];
  readonly fittings: readonly Fitting[];
}

/** Does what changes the fittings of some units, and returns which rides moved with it, oldest first. */
export async function withMovedRides<T>(
  tx: Tx,
  { unitIds, bikeIds = [] }: { readonly unitIds: readonly string[]; readonly bikeIds?: readonly string[] },
  work: () => Promise<T>,
): Promise<Moved<T>> {
  const { timeZone } = await getWorkshop(tx);
  const places = new Set<BikePlace>();
  for (const unitId of unitIds) {
    const unit = await tx.facts.current('unit', unitId);
    if (unit) places.add(placeOf(unit.body.unitKind));
  }
  const bikes = new Set(bikeIds);
  const look = async (): Promise<Map<string, OnBike>> => {
    for (const { body } of await tx.facts.listMany('fitting', unitIds)) bikes.add(body.bikeId);
    const found = new Map<string, OnBike>();
    for (const bikeId of bikes)
      found.set(bikeId, {
        rides: await tx.rides.listCountedHours(bikeId, instant(0)),
        fittings: (await tx.facts.list('fitting', { object: bikeId })).map((fact) =>
          fittingOf(fact, timeZone),
        ),
      });
    return found;
  };
  const before = await look();
  const made = await work();
  const after = await look();
  const rides: MovedRide[] = [];
  for (const [bikeId, now] of after) {
    const then = before.get(bikeId) ?? { rides: now.rides, fittings: [] };
    for (const place of places) rides.push(...(await movedOn(tx, bikeId, place, then, now)));
  }
  return { made, rides: rides.sort((a, b) => a.start - b.start || (a.rideId < b.rideId ? -1 : 1)) };
}

async function movedOn(
  tx: Tx,
  bikeId: string,
  place: BikePlace,
  before: OnBike,
  after: OnBike,
): Promise<MovedRide[]> {
  const units = new Map<string, { readonly tag: string; readonly place: BikePlace }>();
  for (const { unitId } of [...before.fittings, ...after.fittings]) {
    const unit = units.has(unitId) ? undefined : await tx.facts.current('unit', unitId);
    if (unit) units.set(unitId, { tag: unit.body.tag, place: placeOf(unit.body.unitKind) });
  }
  const tagAt = ({ fittings }: OnBike, at: Instant): string | null => {
    const own = fittings.filter(({ unitId }) => units.get(unitId)?.place === place);
    return units.get(fittingAt(own, at)?.unitId ?? '')?.tag ?? null;
  };
  const bike = bikeOf((await tx.facts.current('bike', bikeId))!);
  const still = new Set(after.rides.map(({ id }) => id));
  const gone = before.rides.filter(({ id }) => !still.has(id));
  return [...after.rides, ...gone].flatMap(({ id: rideId, start, movingS }) => {
    const from = tagAt(before, start!);
    const to = still.has(rideId) ? tagAt(after, start!) : null;
    if (from === to) return [];
    return [{ rideId, start: start!, movingS, bike: bike.handle, bikeName: bike.name, from, to }];
  });
}
