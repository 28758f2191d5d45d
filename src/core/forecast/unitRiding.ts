/** What a unit's own riding is foreseen from. */
import { DAY_MS, type Day, type Instant, instant } from '../../units.js';
import { dayOf } from '../days/calendar.js';
import { chargedRides } from '../ledger/hours.js';
import {
  type Bike,
  type CountedRide,
  type Fitting,
  fittingNow,
  type IntervalRule,
  type Service,
  type Unit,
} from '../ledger/ledger.js';
import type { AddedServiceKind } from '../ledger/serviceKinds.js';
import { clampOn } from '../ledger/weight.js';
import type { Departure, Membership } from '../ledger/whereabouts.js';
import type { ServiceKind } from '../tokens.js';
import { type DeclaredOf, declaredHabit, holdsOn } from './declared.js';
import { forecastRiding, type RideHours, type RidingForecast, WEEKS_LOOKED_BACK } from './forecast.js';
import { hemisphereOf } from './hemisphere.js';
import { type DaysKnown, daysKnown, type HandingOver } from './knownUpTo.js';

/** How far back a forecast looks for a rider's habits. */
export const HABITS_MS = (WEEKS_LOOKED_BACK + 1) * 7 * DAY_MS;

export interface UnitKnown {
  readonly unit: Unit;
  readonly fittings: readonly Fitting[];
  readonly services: readonly Service[];
  readonly bikes: ReadonlyMap<string, Bike>;
  /** Fleets that it was said to belong to, in order of entry. */
  readonly memberships: readonly Membership[];
  /** That it left, or came back, in order of entry. */
  readonly departures: readonly Departure[];
  readonly hasCrashMark: boolean;
  readonly isOnBench: boolean;
  readonly rules: readonly IntervalRule[];
  readonly addedKinds: readonly AddedServiceKind[];
  readonly zone: string;
  readonly noticeDays: number;
  /** Of the rider whose bike it is on, or of the bike where that is nobody's. */
  readonly files: readonly HandingOver[];
  /** What is declared of its bikes; left out: nothing. */
  readonly declared?: readonly DeclaredOf[];
  /** The first days on which its service periods came up. */
  readonly comingUp: readonly FirstComingUp[];
  readonly asOf: Instant;
}

/** That a service period came up, and what was known then: from then on it stays so. */
export interface FirstComingUp {
  readonly serviceKind: ServiceKind;
  readonly periodId: string;
  readonly on: Day;
  readonly knownUpTo: Day;
  /** Left out by former versions. */
  readonly filesBy?: Day;
}

/** Returns the bike that the unit is on; null for a boxed one. */
export const bikeNow = ({ fittings, asOf }: UnitKnown): string | null =>
  fittingNow(fittings, asOf)?.bikeId ?? null;

/** What the bike that the unit is on now did lately, whatever unit was on it then, as it weighs for one with the factor. */
function habitsOf(
  known: UnitKnown,
  bikeId: string,
  rides: readonly CountedRide[],
  factor: number,
): RideHours[] {
  const always: Fitting = {
    id: '',
    unitId: known.unit.id,
    bikeId,
    from: instant(known.asOf - HABITS_MS),
    to: null,
  };
  return charge({ ...known, unit: { ...known.unit, factor } }, [always], rides).map(
    ({ start, movingS, terrainMs }) => ({ day: dayOf(start, known.zone), movingS, terrainMs }),
  );
}

/**
 * Returns what is foreseen of the bike that the unit is on, the same for every unit on it; null for a boxed unit.
 * Shape: `rides` hold all of that bike from `ridesNeededFrom` on. `decided` says what days were known where that was judged before.
 */
export function ridingOf(
  known: UnitKnown,
  rides: readonly CountedRide[],
  decided?: DaysKnown,
): RidingForecast | null {
  const bikeId = bikeNow(known);
  if (bikeId === null) return null;
  const today = dayOf(known.asOf, known.zone);
  const declared = known.declared?.find(({ bike }) => bike.id === bikeId);
  const isDeclared = declared !== undefined && holdsOn(declared, today) !== null;
  const before = isDeclared ? declaredHabit(declared, today) : [];
  const habits = habitsOf(known, bikeId, [...before, ...rides], 1);
  // Where nobody hands over files, none are waited for.
  const { upTo, filesBy } =
    decided ?? (isDeclared ? { upTo: today, filesBy: today } : daysKnown(known.files, today));
  // Hours entered by hand are known too.
  const lastKnown = [upTo, ...habits.map(({ day }) => day)].sort().at(-1)!;
  return forecastRiding({
    today,
    knownUpTo: lastKnown,
    filesBy,
    rides: habits,
    hemisphere: hemisphereOf(known.zone, today),
    seed: `${bikeId} ${today}`,
  });
}

/** Returns how much more the unit's own factor makes of the terrain hours of its bike's rides. */
export function factorOnTerrain(known: UnitKnown, rides: readonly CountedRide[]): number {
  const bikeId = bikeNow(known);
  if (known.unit.factor === 1 || bikeId === null) return 1;
  const terrainMs = (factor: number): number =>
    habitsOf(known, bikeId, rides, factor).reduce((sum, ride) => sum + ride.terrainMs, 0);
  const plain = terrainMs(1);
  return plain === 0 ? known.unit.factor : terrainMs(known.unit.factor) / plain;
}

/** Returns what each ride of the fittings' bikes adds to the unit. */
export const charge = (known: UnitKnown, fittings: readonly Fitting[], rides: readonly CountedRide[]) =>
  chargedRides({
    fittings,
    rides,
    factor: known.unit.factor,
    clampOf: (bikeId, at) => clampOn(known.bikes.get(bikeId), at),
    now: known.asOf,
  });
