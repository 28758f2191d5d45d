/** Where a unit stands in each of its service kinds, from all that is known of it. */
import { DAY_MS, type Instant, instant, thousandthsOfHours } from '../../units.js';
import { dayOf } from '../days/calendar.js';
import { type Standing, standingOf } from '../ledger/due.js';
import { chargedRides, hoursIn, reachedIn } from '../ledger/hours.js';
import { intervalFor } from '../ledger/interval.js';
import {
  type Bike,
  type CountedRide,
  type Fitting,
  fittingNow,
  type IntervalRule,
  type Service,
  type Unit,
} from '../ledger/ledger.js';
import { currentPeriod, type Period } from '../ledger/period.js';
import { type AddedServiceKind, serviceKindsOf } from '../ledger/serviceKinds.js';
import { clampOn } from '../ledger/weight.js';
import type { ServiceKind } from '../tokens.js';
import {
  forecastRiding,
  type HoursForecast,
  type RideHours,
  type RidingForecast,
  WEEKS_LOOKED_BACK,
} from './forecast.js';
import { hemisphereOf } from './hemisphere.js';

/** How far back a forecast looks for a rider's habits. */
const HABITS_MS = (WEEKS_LOOKED_BACK + 1) * 7 * DAY_MS;

export interface UnitKnown {
  readonly unit: Unit;
  readonly fittings: readonly Fitting[];
  readonly services: readonly Service[];
  readonly bikes: ReadonlyMap<string, Bike>;
  readonly hasCrashMark: boolean;
  readonly isOnBench: boolean;
  readonly rules: readonly IntervalRule[];
  readonly addedKinds: readonly AddedServiceKind[];
  readonly zone: string;
  readonly noticeDays: number;
  readonly asOf: Instant;
}

/** Returns from when on the rides of the unit's bikes are needed. */
export function ridesNeededFrom(known: UnitKnown): Instant {
  const starts = periodsNow(known).map(({ period }) => period.from ?? Number.NEGATIVE_INFINITY);
  return instant(Math.max(0, Math.min(known.asOf - HABITS_MS, ...starts)));
}

function periodsNow(known: UnitKnown): { readonly serviceKind: ServiceKind; readonly period: Period }[] {
  const { unit, fittings, services, zone, addedKinds, asOf } = known;
  const today = dayOf(asOf, zone);
  return serviceKindsOf(unit, addedKinds).map(({ name: serviceKind }) => ({
    serviceKind,
    period: currentPeriod({ unit, fittings, services, serviceKind, today, zone }),
  }));
}

const bikeNow = ({ fittings, asOf }: UnitKnown): string | null => fittingNow(fittings, asOf)?.bikeId ?? null;

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
 * Shape: `rides` hold all of that bike from `ridesNeededFrom` on.
 */
export function ridingOf(known: UnitKnown, rides: readonly CountedRide[]): RidingForecast | null {
  const bikeId = bikeNow(known);
  if (bikeId === null) return null;
  const today = dayOf(known.asOf, known.zone);
  return forecastRiding({
    today,
    knownUpTo: today,
    rides: habitsOf(known, bikeId, rides, 1),
    hemisphere: hemisphereOf(known.zone, today),
    seed: `${bikeId} ${today}`,
  });
}

/** How much more the unit's own factor makes of the terrain hours of its bike's rides. */
function factorOnTerrain(known: UnitKnown, rides: readonly CountedRide[]): number {
  const bikeId = bikeNow(known);
  if (known.unit.factor === 1 || bikeId === null) return 1;
  const terrainMs = (factor: number): number =>
    habitsOf(known, bikeId, rides, factor).reduce((sum, ride) => sum + ride.terrainMs, 0);
  const plain = terrainMs(1);
  return plain === 0 ? known.unit.factor : terrainMs(known.unit.factor) / plain;
}

const charge = (known: UnitKnown, fittings: readonly Fitting[], rides: readonly CountedRide[]) =>
  chargedRides({
    fittings,
    rides,
    factor: known.unit.factor,
    clampOf: (bikeId) => clampOn(known.bikes.get(bikeId)),
    now: known.asOf,
  });

/** A forecast made before, to go on with until it is made anew. */
export type KnownForecasts = ReadonlyMap<ServiceKind, Pick<HoursForecast, 'likely' | 'weeksOfRides'>>;

export interface UnitStanding {
  readonly standing: Standing;
  readonly forecast: HoursForecast | Pick<HoursForecast, 'likely' | 'weeksOfRides'>;
}

/** A boxed unit is not ridden: nothing is foretold, and no rider is too new to be foretold. */
const NO_FORECAST = { likely: { p10: null, p50: null, p90: null }, weeksOfRides: Number.MAX_SAFE_INTEGER };

/**
 * Returns the unit's standing in each service kind that has an interval.
 * Shape: `rides` of all its bikes from `ridesNeededFrom` on, in any order. With `kept` no forecast is made; `riding` is
 * what `ridingOf` gave for this or another unit of the same bike.
 */
export function standingsOf(
  known: UnitKnown,
  rides: readonly CountedRide[],
  { kept, riding }: { readonly kept?: KnownForecasts; readonly riding?: RidingForecast | null } = {},
): UnitStanding[] {
  const { unit, zone, asOf } = known;
  const today = dayOf(asOf, zone);
  const charged = charge(known, known.fittings, rides);
  const bikeId = bikeNow(known);
  const fleetId = bikeId === null ? null : (known.bikes.get(bikeId)?.fleetId ?? null);
  const ahead = kept ? null : riding === undefined ? ridingOf(known, rides) : riding;
  const factor = ahead === null ? 1 : factorOnTerrain(known, rides);
  const standings: UnitStanding[] = [];
  for (const { serviceKind, period } of periodsNow(known)) {
    const interval = intervalFor(unit, serviceKind, fleetId, known.rules, today, known.addedKinds);
    if (!interval) continue;
    const since = period.isKnown ? period : { ...period, from: null };
    const hours = hoursIn(since, charged);
    const left = (limit: number | null, used: number): number | null =>
      limit === null ? null : thousandthsOfHours(limit) - used;
    const movingMsLeft = left(interval.movingHoursCeiling, hours.movingS * 1000);
    const terrainMsLeft = left(interval.terrainHours, hours.terrainMs);
    const forecast = kept
      ? (kept.get(serviceKind) ?? NO_FORECAST)
      : (ahead?.reach({
          terrainMs: terrainMsLeft === null ? null : terrainMsLeft / factor,
          movingS: movingMsLeft === null ? null : movingMsLeft / 1000,
        }) ?? NO_FORECAST);
    const standing = standingOf({
      unitId: unit.id,
      serviceKind,
      period,
      hours,
      reached: reachedIn(since, charged, interval, zone),
      interval,
      forecast,
      hasCrashMark: known.hasCrashMark,
      isOnBench: known.isOnBench,
      noticeDays: known.noticeDays,
      today,
      asOf,
    });
    standings.push({ standing, forecast });
  }
  return standings;
}
