/** Spares that could be raced where the bench has no time for what is on a bike. */
import type { Bike, Unit } from '../../core/ledger/ledger.js';
import { type RaceOfBike, type RacesInput, raceNeeds } from '../../core/plan/races.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import type { ForeseenUnit } from '../due/foreseen.js';
import { placeOf } from '../fittings/checkFitting.js';
import { fleetIdOfUnit } from '../fittings/fleet.js';

interface Spare extends ForeseenUnit {
  readonly fleetId: string;
}

/** Returns the units in boxes that belong to a fleet. */
export async function listSpares(tx: Tx, units: readonly ForeseenUnit[], now: Instant): Promise<Spare[]> {
  const spares: Spare[] = [];
  for (const one of units) {
    if (one.bike !== null || one.foreseen.length === 0) continue;
    const fleetId = await fleetIdOfUnit(tx, one.unit.id, now);
    if (fleetId !== null) spares.push({ ...one, fleetId });
  }
  return spares;
}

/**
 * Takes a spare of the bike's fleet out of those that are free, and returns its tag: one that lasts through the race.
 * Null where there is none. Shape: `weight` is that of the bike for a unit without a factor.
 */
export function takeSpare(
  free: Spare[],
  { unit, bike }: { readonly unit: Unit; readonly bike: Bike },
  { race, weight, ...rest }: Omit<RacesInput, 'foreseen' | 'races'> & { readonly race: RaceOfBike },
): string | null {
  const lasts = ({ unit: spare, foreseen, fleetId }: Spare): boolean =>
    fleetId === bike.fleetId &&
    placeOf(spare.unitKind) === placeOf(unit.unitKind) &&
    foreseen.every(({ standing: { state } }) => state !== 'stop-riding' && state !== 'on-the-bench') &&
    raceNeeds({ ...rest, foreseen, races: [race], weight: weight * spare.factor }).length === 0;
  const at = free.findIndex(lasts);
  return at < 0 ? null : free.splice(at, 1)[0]!.unit.tag;
}
