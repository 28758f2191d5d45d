import { startOfDay } from '../../../src/core/days/calendar.js';
import type { Likely } from '../../../src/core/ledger/comingUp.js';
import type { Standing } from '../../../src/core/ledger/due.js';
import { chargedRides, hoursIn, reachedIn } from '../../../src/core/ledger/hours.js';
import type { CountedRide, Fitting, IntervalRule, Service, Unit } from '../../../src/core/ledger/ledger.js';
import { currentPeriod, type PeriodInput } from '../../../src/core/ledger/period.js';
import { CLAMP } from '../../../src/core/ledger/weight.js';
import {
  type Day,
  day,
  type Instant,
  instant,
  seconds,
  secondsOfHours,
  thousandths,
} from '../../../src/units.js';

export const ZONE = 'Europe/Lisbon';
export const at = (text: string): Instant => instant(Date.parse(text));
export const startOf = (text: string): Instant => startOfDay(day(text), ZONE);

export const unitOf = (rest: Partial<Unit> = {}): Unit => ({
  id: 'u1',
  tag: 'F-0001',
  unitKind: 'fork',
  model: null,
  serial: null,
  warrantyEnd: null,
  factor: 1,
  history: 'new',
  ...rest,
});

export const fittingOf = (from: string, to: string | null = null, bikeId = 'b1', unitId = 'u1'): Fitting => ({
  id: `${unitId} on ${bikeId} from ${from}`,
  unitId,
  bikeId,
  from: from.length === 10 ? startOf(from) : at(from),
  to: to === null ? null : to.length === 10 ? startOf(to) : at(to),
});

export const serviceOf = (
  on: string,
  restarts: readonly string[] = ['lower-leg'],
  rest: Partial<Service> = {},
): Service => ({
  id: `s ${on}`,
  unitId: 'u1',
  serviceKind: restarts[0] ?? 'wipers-only',
  on: day(on),
  restarts,
  recordedAt: startOf(on),
  seq: 0,
  ...rest,
});

export const rideOf = (start: string, minutes: number, weight = 1, bikeId = 'b1'): CountedRide => ({
  id: `${bikeId} ${start}`,
  bikeId,
  start: at(start),
  movingS: seconds(minutes * 60),
  groundMs: thousandths(minutes * 60_000 * weight),
});

export const ruleOf = (
  scope: Partial<IntervalRule['scope']>,
  terrainHours: number | null,
  rest: Partial<IntervalRule> = {},
): IntervalRule => ({
  unitKind: 'fork',
  serviceKind: 'lower-leg',
  scope: { fleetId: null, model: null, unitId: null, ...scope },
  terrainHours,
  months: null,
  ...rest,
});

export const periodInput = (rest: Partial<PeriodInput> = {}): PeriodInput => ({
  unit: unitOf(),
  fittings: [fittingOf('2025-01-01')],
  services: [],
  serviceKind: 'lower-leg',
  today: day('2025-12-31'),
  zone: ZONE,
  ...rest,
});

/** The running period of a unit with the hours in it, as a caller puts the parts together. */
export function hoursOf(input: PeriodInput, rides: readonly CountedRide[], now = '2025-12-31T12:00:00Z') {
  const period = currentPeriod(input);
  const charged = chargedRides({
    fittings: input.fittings,
    rides,
    factor: input.unit.factor,
    clampOf: () => CLAMP,
    now: at(now),
  });
  const interval = { terrainHours: 50, months: 12, movingHoursCeiling: 75, rule: 'kind' as const };
  return { period, hours: hoursIn(period, charged), reached: reachedIn(period, charged, interval, ZONE) };
}

export const likelyOf = (p10: string | null, p50 = p10, p90 = p50): Likely => ({
  p10: p10 as Day | null,
  p50: p50 as Day | null,
  p90: p90 as Day | null,
});

export const standingWith = (rest: Partial<Standing> = {}): Standing => ({
  unitId: 'u1',
  serviceKind: 'lower-leg',
  periodId: 'start',
  periodStart: day('2025-01-01'),
  movingS: secondsOfHours(20),
  terrainMs: thousandths(20 * 3_600_000),
  interval: { terrainHours: 50, months: 12, movingHoursCeiling: 75, rule: 'kind' },
  hoursLeft: 30,
  state: 'in-time',
  limit: 'terrain-hours',
  likely: likelyOf(null),
  knownUpTo: null,
  expectedMs: thousandths(0),
  asOf: at('2025-06-10T06:00:00Z'),
  ...rest,
});
