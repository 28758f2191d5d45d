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
import { forecastHours, type HoursForecast, type RideHours } from './forecast.js';

/** How far back a forecast looks for a rider's habits. */
const HABITS_MS = 2 * 366 * DAY_MS;

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
  return serviceKindsOf(unit.unitKind, addedKinds).map(({ name: serviceKind }) => ({
    serviceKind,
    period: currentPeriod({ unit, fittings, services, serviceKind, today, zone }),
  }));
}

const bikeNow = ({ fittings, asOf }: UnitKnown): string | null => fittingNow(fittings, asOf)?.bikeId ?? null;

/** What the bike that the unit is on now did lately, whatever unit was on it then; nothing for a boxed unit. */
function habitsOf(known: UnitKnown, rides: readonly CountedRide[]): RideHours[] {
  const bikeId = bikeNow(known);
  if (bikeId === null) return [];
  const always: Fitting = { id: '', unitId: known.unit.id, bikeId, from: instant(0), to: null };
  return charge(known, [always], rides).map(({ start, movingS, terrainMs }) => ({
    day: dayOf(start, known.zone),
    movingS,
    terrainMs,
  }));
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
 * Shape: `rides` of all its bikes from `ridesNeededFrom` on, in any order. With `kept` no forecast is made.
 */
export function standingsOf(
  known: UnitKnown,
  rides: readonly CountedRide[],
  kept?: KnownForecasts,
): UnitStanding[] {
  const { unit, zone, asOf } = known;
  const today = dayOf(asOf, zone);
  const charged = charge(known, known.fittings, rides);
  const bikeId = bikeNow(known);
  const fleetId = bikeId === null ? null : (known.bikes.get(bikeId)?.fleetId ?? null);
  const habits = kept ? [] : habitsOf(known, rides);
  const standings: UnitStanding[] = [];
  for (const { serviceKind, period } of periodsNow(known)) {
    const interval = intervalFor(unit, serviceKind, fleetId, known.rules, today, known.addedKinds);
    if (!interval) continue;
    const since = period.isKnown ? period : { ...period, from: null };
    const hours = hoursIn(since, charged);
    const left = (limit: number | null, used: number): number | null =>
      limit === null ? null : thousandthsOfHours(limit) - used;
    const movingMsLeft = left(interval.movingHoursCeiling, hours.movingS * 1000);
    const make = (): HoursForecast =>
      forecastHours({
        today,
        rides: habits,
        terrainMsLeft: left(interval.terrainHours, hours.terrainMs),
        movingSLeft: movingMsLeft === null ? null : movingMsLeft / 1000,
        seed: `${unit.id} ${serviceKind} ${period.periodId} ${today}`,
      });
    const forecast = kept ? (kept.get(serviceKind) ?? NO_FORECAST) : bikeId === null ? NO_FORECAST : make();
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
