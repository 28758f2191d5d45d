import { expect, test } from 'vitest';
import type { BenchWeek } from '../../../src/core/plan/benchWeeks.js';
import { byUrgency, cameOf, fitsIn, isQuiet, winterOf } from '../../../src/core/plan/quietWeeks.js';
import { day } from '../../../src/units.js';

const spread = (mean: number) => ({ mean, p10: mean, p50: mean, p90: mean });
const week = (from: string, to: string, rest: Partial<BenchWeek> = {}): BenchWeek => ({
  ...{ from: day(from), to: day(to), openDays: 4, due: 0, booked: 0 },
  ...{ services: spread(1), minutes: spread(60), places: null, usableMinutes: 1000 },
  ...{ chanceTooFull: 0, isCrowded: false },
  ...rest,
});

test('the winter of a day ends where most begin to ride, in either half of the world', () => {
  const north = { before: '2027-04-01', dueBy: '2027-04-30' };
  expect(winterOf('Europe/Lisbon', day('2026-11-01'))).toEqual(north);
  expect(winterOf('Europe/Lisbon', day('2027-03-31'))).toEqual(north);
  expect(winterOf('Europe/Lisbon', day('2026-10-31'))).toBeNull();
  expect(winterOf('Europe/Lisbon', day('2027-04-01'))).toBeNull();
  // Pacific/Auckland puts its clocks forward in October (IANA time zone database).
  expect(winterOf('Pacific/Auckland', day('2026-06-15'))).toEqual({
    before: '2026-10-01',
    dueBy: '2026-10-31',
  });
  expect(winterOf('Pacific/Auckland', day('2026-12-15'))).toBeNull();
});

test('a week is quiet with half of it free, before the busy months, while somebody works', () => {
  const zone = 'Europe/Lisbon';
  const quiet = week('2026-11-23', '2026-11-29');
  expect(isQuiet(quiet, zone)).toBe(true);
  expect(isQuiet({ ...quiet, minutes: spread(500) }, zone)).toBe(true);
  expect(isQuiet({ ...quiet, minutes: spread(501) }, zone)).toBe(false);
  expect(isQuiet({ ...quiet, places: 4, services: spread(3) }, zone)).toBe(false);
  expect(isQuiet({ ...quiet, openDays: 0 }, zone)).toBe(false);
  expect(isQuiet({ ...quiet, isCrowded: true }, zone)).toBe(false);
  expect(isQuiet(week('2027-03-29', '2027-04-04'), zone)).toBe(false);
});

test('as many jobs fit as there are minutes and places', () => {
  const room = week('2026-11-23', '2026-11-29', { usableMinutes: 260 });
  expect(fitsIn(room, [60, 60, 60, 60])).toBe(3);
  expect(fitsIn(room, [])).toBe(0);
  expect(fitsIn({ ...room, places: 3 }, [60, 60, 60, 60])).toBe(2);
  expect(fitsIn(room, [300, 60])).toBe(0);
});

test('what presses comes first, then by likely day', () => {
  const of = (state: Parameters<typeof byUrgency>[0]['state'], likely: string | null) => ({
    state,
    likely: likely === null ? null : day(likely),
  });
  const all = [
    of('in-time', null),
    of('in-time', '2027-01-01'),
    of('coming-up', '2026-12-01'),
    of('due', '2026-11-01'),
  ];
  expect([...all].sort(byUrgency).map(({ likely }) => likely)).toEqual([
    '2026-11-01',
    '2026-12-01',
    '2027-01-01',
    null,
  ]);
});

test('the furthest that an invitation came to counts', () => {
  const none = { isDone: false, hasDay: false, isNotNow: false, mail: 'to-go' } as const;
  expect(cameOf(none)).toBe('waits');
  expect(cameOf({ ...none, mail: 'handed-over' })).toBe('told');
  expect(cameOf({ ...none, mail: 'cannot' })).toBe('to-call');
  expect(cameOf({ ...none, isNotNow: true, mail: 'handed-over' })).toBe('not-now');
  expect(cameOf({ ...none, isNotNow: true, hasDay: true })).toBe('booked');
  expect(cameOf({ ...none, isDone: true, hasDay: true })).toBe('done');
});
