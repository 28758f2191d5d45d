import {
  type Day,
  hoursOfThousandths,
  type Instant,
  msOf,
  type Seconds,
  type Thousandths,
  thousandths,
  thousandthsOfHours,
} from '../../units.js';
import { addMonths, earlierDay } from '../days/calendar.js';
import type { Limit, ServiceKind, State } from '../tokens.js';
import { isComingUp, type Likely } from './comingUp.js';
import type { Hours, Reached } from './hours.js';
import type { Interval } from './interval.js';
import type { Period } from './period.js';

/** Where one service period of a unit stands: what `due` shows and notices are decided from. */
export interface Standing {
  readonly unitId: string;
  readonly serviceKind: ServiceKind;
  /** The service that began the period, or `start` for the first one; the same through corrections of its date. */
  readonly periodId: string;
  readonly periodStart: Day | null;
  readonly movingS: Seconds;
  readonly terrainMs: Thousandths;
  readonly interval: Interval;
  /** Null when the history is unknown or no hours apply. */
  readonly hoursLeft: number | null;
  readonly state: State;
  /** Of the terrain time what its rider declared, where anything is. */
  readonly declaredMs?: Thousandths;
  /** Which limit comes first. */
  readonly limit: Limit;
  readonly likely: Likely;
  /** The day to which files are taken to be complete; null where none are waited for. */
  readonly knownUpTo: Day | null;
  /** Terrain hours expected after that day; in no sum. */
  readonly expectedMs: Thousandths;
  readonly asOf: Instant;
}

/** What is expected to have been ridden after the last day that is known. */
export interface ExpectedSince {
  readonly knownUpTo: Day;
  /** By when files are expected to tell of it. */
  readonly filesBy: Day;
  readonly movingS: number;
  readonly terrainMs: number;
}

export interface StandingInput {
  readonly unitId: string;
  readonly serviceKind: ServiceKind;
  readonly period: Period;
  readonly hours: Hours;
  /** Of the terrain time what was declared; left out: nothing. */
  readonly declaredMs?: Thousandths;
  readonly reached: Reached;
  readonly interval: Interval;
  /** When the hours limits will be reached; the months are added here. */
  readonly forecast: {
    readonly likely: Likely;
    /** At 5, 10, … 95 %. */
    readonly quantileDays?: readonly (Day | null)[];
    readonly weeksOfRides: number;
    /** Null or left out where nothing is waited for. */
    readonly since?: ExpectedSince | null;
  };
  /** False for a forecast of before: then the hours ridden alone say that something comes up. */
  readonly isFresh: boolean;
  readonly hasCrashMark: boolean;
  readonly isOnBench: boolean;
  readonly noticeDays: number;
  readonly today: Day;
  readonly asOf: Instant;
}

/** Of the days at 5, 10, … 95 %, the place of that at 30 %. */
const AT_THREE_IN_TEN = 5;
const NOTHING_FORETOLD: Likely = { p10: null, p50: null, p90: null };

/** How far past its limits an interval is over: a quarter of the hours, or three months. */
const MONTHS_OVER = 3;
const isQuarterOver = (usedMs: number, limitMs: number): boolean => usedMs * 4 >= limitMs * 5;

interface HoursLimit {
  readonly limit: 'terrain-hours' | 'moving-hours';
  readonly usedMs: number;
  readonly limitMs: number;
  /** More of it that is expected, but not known. */
  readonly expectedMs: number;
  readonly reachedOn: Day | 'before' | null;
}

function hoursLimitsOf({ interval, hours, reached, forecast: { since } }: StandingInput): HoursLimit[] {
  const limits: HoursLimit[] = [];
  if (interval.terrainHours !== null)
    limits.push({
      limit: 'terrain-hours',
      usedMs: hours.terrainMs,
      limitMs: thousandthsOfHours(interval.terrainHours),
      expectedMs: since?.terrainMs ?? 0,
      reachedOn: reached.terrainHours,
    });
  if (interval.movingHoursCeiling !== null)
    limits.push({
      limit: 'moving-hours',
      usedMs: msOf(hours.movingS),
      limitMs: thousandthsOfHours(interval.movingHoursCeiling),
      expectedMs: msOf(since?.movingS ?? 0),
      reachedOn: reached.movingHours,
    });
  return limits;
}

/**
 * The hours limit of which the larger share is used: the one that comes first if the ground stays as it was in this
 * period. With nothing ridden yet, the smaller one; of two alike, terrain hours.
 */
function nearerOf(limits: readonly HoursLimit[]): HoursLimit | null {
  return limits.reduce<HoursLimit | null>((nearest, one) => {
    if (nearest === null) return one;
    const lead = one.usedMs * nearest.limitMs - nearest.usedMs * one.limitMs;
    const isNearer = one.usedMs === 0 && nearest.usedMs === 0 ? one.limitMs < nearest.limitMs : lead > 0;
    return isNearer ? one : nearest;
  }, null);
}

interface Ends {
  readonly limit: Limit;
  readonly likely: Likely;
  readonly isReached: boolean;
}

/** A limit that was passed before counting began sorts before every day. */
const sortKey = (on: Day | 'before'): string => (on === 'before' ? '' : on);

/** Of limits that are reached, the one reached earliest came first; the likely days are then the day it was. */
function endsWhenReached(
  input: StandingInput,
  limits: readonly HoursLimit[],
  byMonths: Day | null,
): Ends | null {
  const reached: { limit: Limit; on: Day | 'before' }[] = limits
    .filter((one) => one.usedMs >= one.limitMs)
    .map(({ limit, reachedOn }) => ({ limit, on: reachedOn ?? input.today }));
  if (byMonths !== null && byMonths <= input.today) reached.push({ limit: 'months', on: byMonths });
  const first = reached.sort((a, b) => (sortKey(a.on) < sortKey(b.on) ? -1 : 1))[0];
  if (!first) return null;
  const on = first.on === 'before' ? (input.period.start ?? input.today) : first.on;
  return { limit: first.limit, likely: { p10: on, p50: on, p90: on }, isReached: true };
}

function endsAhead(input: StandingInput, limits: readonly HoursLimit[], byMonths: Day | null): Ends {
  const hoursLikely = limits.length === 0 ? NOTHING_FORETOLD : input.forecast.likely;
  const likely = {
    p10: earlierDay(hoursLikely.p10, byMonths),
    p50: earlierDay(hoursLikely.p50, byMonths),
    p90: earlierDay(hoursLikely.p90, byMonths),
  };
  const monthsFirst = byMonths !== null && (hoursLikely.p50 === null || byMonths < hoursLikely.p50);
  const limit = monthsFirst ? 'months' : (nearerOf(limits)?.limit ?? 'none');
  return { limit, likely, isReached: false };
}

function stateOf(
  input: StandingInput,
  limits: readonly HoursLimit[],
  byMonths: Day | null,
  ends: Ends,
): State {
  const { today, noticeDays, forecast } = input;
  if (input.hasCrashMark) return 'stop-riding';
  if (input.isOnBench) return 'on-the-bench';
  if (!input.period.isKnown) return 'history-unknown';
  if (limits.some((one) => isQuarterOver(one.usedMs, one.limitMs))) return 'over-interval';
  if (byMonths !== null && addMonths(byMonths, MONTHS_OVER) <= today) return 'over-interval';
  if (ends.isReached) return 'due';
  const nearest = nearerOf(limits);
  // Rides that came since a forecast of before are in the sum, and must not count as expected beside it.
  const expectedMs = nearest && input.isFresh ? nearest.expectedMs : 0;
  const isNear = isComingUp({
    today,
    noticeDays,
    likely: input.isFresh ? ends.likely : { ...NOTHING_FORETOLD, p50: byMonths },
    threeInTen: (input.isFresh && forecast.quantileDays?.[AT_THREE_IN_TEN]) || null,
    filesBy: forecast.since?.filesBy ?? null,
    hoursLeft: nearest && hoursOfThousandths(nearest.limitMs - nearest.usedMs - expectedMs),
    intervalHours: nearest && hoursOfThousandths(nearest.limitMs),
    weeksOfRides: input.isFresh ? forecast.weeksOfRides : Number.MAX_SAFE_INTEGER,
  });
  return isNear ? 'coming-up' : 'in-time';
}

/**
 * Returns where a service period stands. A crash mark comes before all; hours, limit and likely days are told in every
 * state but for an unknown history, which has no limit to come. Months run from the period's first day, also while
 * the unit lies boxed. Limits are compared in whole thousandths of a second: exactly reached is reached.
 */
export function standingOf(input: StandingInput): Standing {
  const { period, interval, hours } = input;
  const { since } = input.forecast;
  const limits = hoursLimitsOf(input);
  const byMonths =
    period.isKnown && period.start !== null && interval.months !== null
      ? addMonths(period.start, interval.months)
      : null;
  const ends: Ends = period.isKnown
    ? (endsWhenReached(input, limits, byMonths) ?? endsAhead(input, limits, byMonths))
    : { limit: 'none', likely: NOTHING_FORETOLD, isReached: false };
  return {
    unitId: input.unitId,
    serviceKind: input.serviceKind,
    periodId: period.periodId,
    periodStart: period.start,
    movingS: hours.movingS,
    terrainMs: hours.terrainMs,
    ...(input.declaredMs ? { declaredMs: input.declaredMs } : {}),
    interval,
    hoursLeft:
      period.isKnown && interval.terrainHours !== null
        ? hoursOfThousandths(thousandthsOfHours(interval.terrainHours) - hours.terrainMs)
        : null,
    state: stateOf(input, limits, byMonths, ends),
    limit: ends.limit,
    likely: ends.likely,
    knownUpTo: since?.knownUpTo ?? null,
    expectedMs: thousandths(Math.round(since?.terrainMs ?? 0)),
    asOf: input.asOf,
  };
}
