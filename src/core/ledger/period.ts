import {
  type Day,
  type Instant,
  type Seconds,
  seconds,
  secondsOfHours,
  type Thousandths,
  thousandths,
  thousandthsOfHours,
} from '../../units.js';
import { dayOf, startOfDay } from '../days/calendar.js';
import type { ServiceKind } from '../tokens.js';
import type { Fitting, Service, Unit } from './ledger.js';

/** The id of the period before the first service. */
const FIRST_PERIOD = 'start';

/** The time from one service of a kind to the next. */
export interface Period {
  /** The service that began it, or `start`; the same when that service's date is corrected. */
  readonly periodId: string;
  /** From where its months run; null where that is unknown, or where a new unit was never fitted. */
  readonly start: Day | null;
  /** Rides that start in here count, half open; null where it is open. */
  readonly from: Instant | null;
  readonly to: Instant | null;
  /** What had been ridden in it before `from`. */
  readonly baseMovingS: Seconds;
  readonly baseTerrainMs: Thousandths;
  /** False where it began before anybody counted: the hours are then those since the unit came. */
  readonly isKnown: boolean;
}

export interface PeriodInput {
  readonly unit: Unit;
  /** The unit's, in any order. */
  readonly fittings: readonly Fitting[];
  /** The unit's, corrections applied and void ones left out, in any order. */
  readonly services: readonly Service[];
  readonly serviceKind: ServiceKind;
  /** Services dated later have not happened yet. */
  readonly today: Day;
  readonly zone: string;
}

function firstPeriod({ unit, fittings, serviceKind, zone }: PeriodInput): Period {
  const open = { periodId: FIRST_PERIOD, to: null, baseMovingS: seconds(0), baseTerrainMs: thousandths(0) };
  const brought = unit.broughtClocks;
  if (brought?.kinds.includes(serviceKind))
    return { ...open, start: brought.on, from: startOfDay(brought.on, zone), isKnown: true };
  if (unit.history === 'unknown') return { ...open, start: null, from: null, isKnown: false };
  if (unit.history !== 'new') {
    const { asOf } = unit.history;
    return withBase({ ...open, start: asOf, from: null, isKnown: true }, unit, zone);
  }
  const first = fittings.length === 0 ? null : Math.min(...fittings.map((fitting) => fitting.from));
  return {
    ...open,
    start: first === null ? null : dayOf(first as Instant, zone),
    from: first as Instant | null,
    isKnown: true,
  };
}

/** The known hours stand in for all that was ridden in the period before their day. */
function withBase(period: Period, { history }: Unit, zone: string): Period {
  if (typeof history === 'string') return period;
  return {
    ...period,
    from: startOfDay(history.asOf, zone),
    baseMovingS: secondsOfHours(history.movingHours),
    baseTerrainMs: thousandthsOfHours(history.terrainHours),
  };
}

function closedAt(period: Period, to: Instant, { unit: { history }, zone }: PeriodInput): Period {
  if (typeof history === 'string' || to >= startOfDay(history.asOf, zone)) return { ...period, to };
  // It ended before the day of the known hours: those are a later period's, and its own were never counted whole.
  const isFirst = period.periodId === FIRST_PERIOD;
  return {
    periodId: period.periodId,
    start: isFirst ? null : period.start,
    from: isFirst || period.start === null ? null : startOfDay(period.start, zone),
    to,
    baseMovingS: seconds(0),
    baseTerrainMs: thousandths(0),
    isKnown: false,
  };
}

/** Of two services of one day the one entered later begins the later period. */
export const inOrder = (a: Service, b: Service): number =>
  (a.on < b.on ? -1 : a.on > b.on ? 1 : 0) || a.recordedAt - b.recordedAt || a.seq - b.seq;

/**
 * Returns all service periods of one kind, oldest first; the last one is running. A period begins at the start of the
 * day of a service that restarts the kind, so that day's rides count in it.
 */
export function periodsOf(input: PeriodInput): Period[] {
  const { services, serviceKind, today, unit, zone } = input;
  const restarts = services
    .filter((service) => service.restarts.includes(serviceKind) && service.on <= today)
    .sort(inOrder);
  const periods = [firstPeriod(input)];
  for (const service of restarts) {
    const from = startOfDay(service.on, zone);
    periods.push(closedAt(periods.pop()!, from, input));
    const begun: Period = {
      periodId: service.id,
      start: service.on,
      from,
      to: null,
      baseMovingS: seconds(0),
      baseTerrainMs: thousandths(0),
      isKnown: true,
    };
    const isCountedInBase = typeof unit.history !== 'string' && service.on < unit.history.asOf;
    periods.push(isCountedInBase ? withBase(begun, unit, zone) : begun);
  }
  return periods;
}

/** Returns the service period of one kind that is running. */
export const currentPeriod = (input: PeriodInput): Period => periodsOf(input).at(-1)!;
