import {
  type Day,
  type Instant,
  msOf,
  type Seconds,
  seconds,
  type Thousandths,
  thousandths,
  thousandthsOfHours,
} from '../../units.js';
import { dayOf } from '../days/calendar.js';
import type { Interval } from './interval.js';
import type { CountedRide, Fitting } from './ledger.js';
import type { Period } from './period.js';
import { type Clamp, chargedMs } from './weight.js';

/** What one ride adds to one unit. */
export interface ChargedRide {
  readonly rideId: string;
  readonly bikeId: string;
  readonly start: Instant;
  readonly movingS: Seconds;
  /** With the unit's factor, within the bounds. */
  readonly terrainMs: Thousandths;
  readonly isDeclared?: true;
}

export interface Hours {
  readonly movingS: Seconds;
  readonly terrainMs: Thousandths;
}

export const NO_HOURS: Hours = { movingS: seconds(0), terrainMs: thousandths(0) };

export const plusHours = (a: Hours, b: Hours): Hours => ({
  movingS: seconds(a.movingS + b.movingS),
  terrainMs: thousandths(a.terrainMs + b.terrainMs),
});

export interface ChargeInput {
  /** The unit's, in any order. */
  readonly fittings: readonly Fitting[];
  /** Rides of any bikes, in any order, each once. */
  readonly rides: readonly CountedRide[];
  readonly factor: number;
  /** The bounds on a bike at the start of a ride. */
  readonly clampOf: (bikeId: string, at: Instant) => Clamp;
  /** Rides that start later have not happened yet. */
  readonly now: Instant;
}

const isOn = (fitting: Fitting, ride: CountedRide): boolean =>
  fitting.bikeId === ride.bikeId &&
  fitting.from <= ride.start &&
  (fitting.to === null || ride.start < fitting.to);

/**
 * Returns what each ride adds to the unit, oldest first: a ride goes whole to what was fitted at its start. Each is
 * rounded by itself, so that sums do not depend on order.
 */
export function chargedRides({ fittings, rides, factor, clampOf, now }: ChargeInput): ChargedRide[] {
  return rides
    .filter((ride) => ride.start <= now && fittings.some((fitting) => isOn(fitting, ride)))
    .map((ride) => ({
      rideId: ride.id,
      bikeId: ride.bikeId,
      start: ride.start,
      movingS: ride.movingS,
      terrainMs: chargedMs(ride, factor, clampOf(ride.bikeId, ride.start)),
      ...(ride.isDeclared ? { isDeclared: true as const } : {}),
    }))
    .sort((a, b) => a.start - b.start || (a.rideId < b.rideId ? -1 : 1));
}

const isIn = ({ from, to }: Period, { start }: ChargedRide): boolean =>
  (from === null || start >= from) && (to === null || start < to);

/** Returns the hours of a service period: what it began with and the unit's rides that started in it. */
export function hoursIn(period: Period, charged: readonly ChargedRide[]): Hours {
  let movingS: number = period.baseMovingS;
  let terrainMs: number = period.baseTerrainMs;
  for (const ride of charged) {
    if (!isIn(period, ride)) continue;
    movingS += ride.movingS;
    terrainMs += ride.terrainMs;
  }
  return { movingS: seconds(movingS), terrainMs: thousandths(terrainMs) };
}

/** Returns the terrain time of a service period that was declared, not recorded; it is in its hours already. */
export const declaredIn = (period: Period, charged: readonly ChargedRide[]): Thousandths =>
  thousandths(
    charged.reduce((sum, ride) => sum + (ride.isDeclared && isIn(period, ride) ? ride.terrainMs : 0), 0),
  );

/** The day on which a limit was reached; null where it was not, `before` where the period began beyond it. */
type ReachedOn = Day | 'before' | null;

export interface Reached {
  readonly terrainHours: ReachedOn;
  readonly movingHours: ReachedOn;
}

/** Returns when the hours of the period reached the interval's limits. Shape: `charged` oldest first. */
export function reachedIn(
  period: Period,
  charged: readonly ChargedRide[],
  interval: Interval,
  zone: string,
): Reached {
  const inPeriod = charged.filter((ride) => isIn(period, ride));
  const firstAt = (hours: number | null, base: number, added: (ride: ChargedRide) => number): ReachedOn => {
    if (hours === null) return null;
    const limit = thousandthsOfHours(hours);
    if (base >= limit) return 'before';
    let sum = base;
    const ride = inPeriod.find((one) => {
      sum += added(one);
      return sum >= limit;
    });
    return ride ? dayOf(ride.start, zone) : null;
  };
  return {
    terrainHours: firstAt(interval.terrainHours, period.baseTerrainMs, (ride) => ride.terrainMs),
    movingHours: firstAt(interval.movingHoursCeiling, msOf(period.baseMovingS), (ride) => msOf(ride.movingS)),
  };
}
