/** Where a unit stands in each of its service kinds, from all that is known of it. */
import { type Day, type Instant, instant, msOf, secondsIn, thousandthsOfHours } from '../../units.js';
import { addDays, dayOf, startOfDay } from '../days/calendar.js';
import { type ExpectedSince, type Standing, standingOf } from '../ledger/due.js';
import { declaredIn, hoursIn, reachedIn } from '../ledger/hours.js';
import { intervalFor } from '../ledger/interval.js';
import type { CountedRide } from '../ledger/ledger.js';
import { currentPeriod, type Period } from '../ledger/period.js';
import { serviceKindsOf } from '../ledger/serviceKinds.js';
import { fleetOf, goneOn } from '../ledger/whereabouts.js';
import { isWanted } from '../states.js';
import type { ServiceKind } from '../tokens.js';
import type { HoursForecast, RidingForecast } from './forecast.js';
import {
  charge,
  type FirstComingUp,
  factorOnTerrain,
  HABITS_MS,
  ridingOf,
  type UnitKnown,
} from './unitRiding.js';

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

/** A forecast as a standing keeps it; one of an earlier program says nothing of what is expected. */
export type KeptForecast = Pick<HoursForecast, 'likely' | 'weeksOfRides'> & {
  readonly since?: ExpectedSince | null;
};

/** Forecasts made before, to go on with until they are made anew. */
export type KnownForecasts = ReadonlyMap<ServiceKind, KeptForecast>;

export interface UnitStanding {
  readonly standing: Standing;
  readonly forecast: KeptForecast & Partial<HoursForecast>;
}

/** A boxed unit is not ridden: nothing is foretold, and no rider is too new to be foretold. */
const NO_FORECAST: KeptForecast = {
  likely: { p10: null, p50: null, p90: null },
  weeksOfRides: Number.MAX_SAFE_INTEGER,
  since: null,
};

/** Forecasts to go on with, or the riding that was foreseen for another unit of the bike. */
export interface Foreseen {
  readonly kept?: KnownForecasts;
  readonly riding?: RidingForecast | null;
}

/**
 * Returns the unit's standing in each service kind that has an interval; none of a unit that is gone. What came up stays so through dates that
 * merely move: until its period ends, or until what is known now makes the rule false on the day when it came up.
 * Shape: `rides` of all its bikes from `ridesNeededFrom` on, in any order. With `kept` no forecast is made; `riding` is
 * what `ridingOf` gave for this or another unit of the same bike.
 */
export function standingsOf(
  known: UnitKnown,
  rides: readonly CountedRide[],
  foreseen: Foreseen = {},
): UnitStanding[] {
  if (goneOn(known.departures, dayOf(known.asOf, known.zone)) !== null) return [];
  return standingsAt(known, rides, foreseen).map((one) => {
    const { serviceKind, periodId, state } = one.standing;
    if (state !== 'in-time') return one;
    const first = known.comingUp.find((up) => up.serviceKind === serviceKind && up.periodId === periodId);
    const isHeld = first && (foreseen.kept !== undefined || cameUp(known, rides, first));
    return isHeld ? { ...one, standing: { ...one.standing, state: 'coming-up' } } : one;
  });
}

/** Whether the rule says, by what is known now, that the service period came up on that day. */
function cameUp(known: UnitKnown, rides: readonly CountedRide[], first: FirstComingUp): boolean {
  const endOf = (day: Day): Instant => instant(startOfDay(addDays(day, 1), known.zone) - 1);
  const then = { ...known, asOf: endOf(first.on), hasCrashMark: false, isOnBench: false };
  const before = rides.filter((ride) => ride.start <= endOf(first.knownUpTo));
  const decided = { upTo: first.knownUpTo, filesBy: first.filesBy ?? first.on };
  const riding = ridingOf(then, before, decided);
  return standingsAt(then, before, { riding }).some(
    ({ standing }) =>
      standing.serviceKind === first.serviceKind &&
      standing.periodId === first.periodId &&
      isWanted(standing.state),
  );
}

function standingsAt(
  known: UnitKnown,
  rides: readonly CountedRide[],
  { kept, riding }: Foreseen,
): UnitStanding[] {
  const { unit, zone, asOf } = known;
  const today = dayOf(asOf, zone);
  const charged = charge(known, known.fittings, rides);
  const fleetId = fleetOf(known, asOf, zone);
  const ahead = kept ? null : riding === undefined ? ridingOf(known, rides) : riding;
  const factor = ahead === null ? 1 : factorOnTerrain(known, rides);
  const since = ahead && {
    knownUpTo: ahead.knownUpTo,
    filesBy: ahead.filesBy,
    movingS: ahead.expectedSince.movingS,
    terrainMs: ahead.expectedSince.terrainMs * factor,
  };
  const standings: UnitStanding[] = [];
  for (const { serviceKind, period } of periodsNow(known)) {
    const interval = intervalFor(unit, serviceKind, fleetId, known.rules, today, known.addedKinds);
    if (!interval) continue;
    const counted = period.isKnown ? period : { ...period, from: null };
    const hours = hoursIn(counted, charged);
    const left = (limit: number | null, used: number): number | null =>
      limit === null ? null : thousandthsOfHours(limit) - used;
    const movingMsLeft = left(interval.movingHoursCeiling, msOf(hours.movingS));
    const terrainMsLeft = left(interval.terrainHours, hours.terrainMs);
    const forecast = kept
      ? (kept.get(serviceKind) ?? NO_FORECAST)
      : ahead === null
        ? NO_FORECAST
        : {
            ...ahead.reach({
              terrainMs: terrainMsLeft === null ? null : terrainMsLeft / factor,
              movingS: movingMsLeft === null ? null : secondsIn(movingMsLeft),
            }),
            since,
          };
    const standing = standingOf({
      unitId: unit.id,
      serviceKind,
      period,
      hours,
      declaredMs: declaredIn(counted, charged),
      reached: reachedIn(counted, charged, interval, zone),
      interval,
      forecast,
      isFresh: kept === undefined,
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
