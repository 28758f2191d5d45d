import { expect, test } from 'vitest';
import { addDays } from '../../../src/core/days/calendar.js';
import { ridesNeededFrom, standingsOf } from '../../../src/core/forecast/standings.js';
import { ridingOf, type UnitKnown } from '../../../src/core/forecast/unitRiding.js';
import { DAY_MS, day, instant, secondsOfHours, thousandthsOfHours } from '../../../src/units.js';
import { fittingOf, unitOf } from '../ledger/ledgerBuilders.js';

const ZONE = 'Europe/Lisbon';
const AS_OF = instant(Date.parse('2025-06-10T12:00:00Z'));
const bike = { id: 'b1', handle: 'b1', riderId: null, fleetId: null, name: 'b1', type: 'trail' as const };

const known = (rest: Partial<UnitKnown> = {}): UnitKnown => ({
  unit: unitOf(),
  fittings: [fittingOf('2025-01-01')],
  services: [],
  bikes: new Map([['b1', bike]]),
  memberships: [],
  departures: [],
  hasCrashMark: false,
  isOnBench: false,
  rules: [],
  addedKinds: [],
  zone: ZONE,
  noticeDays: 14,
  files: [],
  comingUp: [],
  asOf: AS_OF,
  ...rest,
});

/** A ride of two hours a week for so many weeks. */
const weekly = (weeks: number) =>
  Array.from({ length: weeks }, (_, i) => ({
    id: `ride ${i}`,
    bikeId: 'b1',
    start: instant(AS_OF - (1 + 7 * i) * DAY_MS),
    movingS: secondsOfHours(2),
    groundMs: thousandthsOfHours(2),
  }));

const stateOf = (of: UnitKnown, rides = weekly(10)) =>
  Object.fromEntries(standingsOf(of, rides).map(({ standing }) => [standing.serviceKind, standing.state]));

test('every service kind of the unit stands, each with the hours since its own service', () => {
  const service = {
    id: 's1',
    unitId: 'u1',
    serviceKind: 'lower-leg',
    on: addDays(day('2025-06-10'), -20),
    restarts: ['lower-leg'],
    recordedAt: AS_OF,
    seq: 1,
  };
  const standings = standingsOf(known({ services: [service] }), weekly(10)).map((one) => one.standing);
  expect(standings.map((one) => [one.serviceKind, one.movingS])).toEqual([
    ['lower-leg', secondsOfHours(6)],
    ['air-spring', secondsOfHours(20)],
    ['damper', secondsOfHours(20)],
    ['full', secondsOfHours(20)],
  ]);
});

test('a kind that the workshop added stands where it has an interval', () => {
  const seals = { unitKind: 'fork' as const, name: 'seal-check', terrainHours: 20 };
  const idle = { unitKind: 'fork' as const, name: 'dusting' };
  expect(stateOf(known({ addedKinds: [seals, idle] }))).toEqual({
    'lower-leg': 'in-time',
    'air-spring': 'in-time',
    damper: 'in-time',
    full: 'in-time',
    'seal-check': 'due',
  });
});

test('a boxed unit is foretold nothing but its months', () => {
  const boxed = known({ fittings: [fittingOf('2025-01-01', '2025-05-01')] });
  for (const { standing } of standingsOf(boxed, weekly(10))) {
    const byMonths = standing.interval.months === null ? null : '2026-01-01';
    expect(standing.likely).toEqual({ p10: byMonths, p50: byMonths, p90: byMonths });
  }
});

test('a crash mark stands above the bench, and the bench above the hours', () => {
  expect(new Set(Object.values(stateOf(known({ isOnBench: true }))))).toEqual(new Set(['on-the-bench']));
  const marked = known({ isOnBench: true, hasCrashMark: true });
  expect(new Set(Object.values(stateOf(marked)))).toEqual(new Set(['stop-riding']));
});

test('with kept forecasts none is made, and the hours are those of now', () => {
  const likely = { p10: day('2025-08-01'), p50: day('2025-09-01'), p90: day('2025-10-01') };
  const kept = new Map([['lower-leg', { likely, weeksOfRides: 30 }]]);
  const [lowerLeg] = standingsOf(known(), weekly(10), { kept });
  expect(lowerLeg!.standing.likely).toEqual(likely);
  expect(lowerLeg!.standing.movingS).toBe(secondsOfHours(20));
});

test('rides are needed from the oldest running period, or as far back as habits are looked at', () => {
  expect(ridesNeededFrom(known({ fittings: [fittingOf('2019-03-01')] }))).toBe(
    Date.parse('2019-03-01T00:00:00Z'),
  );
  expect(ridesNeededFrom(known())).toBe(AS_OF - 157 * 7 * DAY_MS);
  expect(ridesNeededFrom(known({ unit: unitOf({ history: 'unknown' }) }))).toBe(0);
});

test('a heavy rider’s factor brings the dates nearer, and the riding foreseen serves every unit of the bike', () => {
  const dates = (factor: number, riding = ridingOf(known(), weekly(60))) =>
    standingsOf(known({ unit: unitOf({ factor }) }), weekly(60), { riding }).map(
      ({ standing }) => standing.likely.p50 ?? 'never',
    );
  const own = standingsOf(known(), weekly(60)).map(({ standing }) => standing.likely.p50 ?? 'never');
  expect(dates(1)).toEqual(own);
  const heavy = dates(1.5);
  expect(heavy.every((on, i) => on <= own[i]!)).toBe(true);
  expect(heavy).not.toEqual(own);
});
