import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type StandingInput, standingOf } from '../../../src/core/ledger/due.js';
import type { Period } from '../../../src/core/ledger/period.js';
import {
  type Day,
  day,
  seconds,
  secondsOfHours,
  thousandths,
  thousandthsOfHours,
} from '../../../src/units.js';
import { at, likelyOf } from './ledgerBuilders.js';

const today = day('2025-06-10');
const period: Period = {
  periodId: 'start',
  start: day('2025-01-01'),
  from: at('2025-01-01T00:00:00Z'),
  to: null,
  baseMovingS: seconds(0),
  baseTerrainMs: thousandths(0),
  isKnown: true,
};

const hoursOf = (terrain: number, moving = terrain) => ({
  terrainMs: thousandthsOfHours(terrain),
  movingS: secondsOfHours(moving),
});

const input = (rest: Partial<StandingInput> = {}): StandingInput => ({
  unitId: 'u1',
  serviceKind: 'lower-leg',
  period,
  hours: hoursOf(20),
  reached: { terrainHours: null, movingHours: null },
  interval: { terrainHours: 50, months: 12, movingHoursCeiling: 75, rule: 'kind' },
  forecast: { likely: likelyOf('2025-08-01', '2025-09-01', '2025-11-01'), weeksOfRides: 40 },
  isFresh: true,
  hasCrashMark: false,
  isOnBench: false,
  noticeDays: 14,
  today,
  asOf: at('2025-06-10T06:00:00Z'),
  ...rest,
});

const stateWith = (rest: Partial<StandingInput>) => standingOf(input(rest)).state;
const started = (start: string): Period => ({ ...period, start: day(start) });

describe('state', () => {
  test('in time, with hours left to four decimals', () => {
    expect(standingOf(input({ hours: hoursOf(42.5) }))).toMatchObject({
      state: 'in-time',
      hoursLeft: 7.5,
      limit: 'terrain-hours',
      periodStart: '2025-01-01',
      likely: likelyOf('2025-08-01', '2025-09-01', '2025-11-01'),
    });
    const aSecond = { ...hoursOf(20), terrainMs: thousandths(1000) };
    expect(standingOf(input({ hours: aSecond })).hoursLeft).toBe(49.9997);
  });

  test('due when exactly reached, and not a thousandth of a second before', () => {
    const terrain = (terrainMs: number) =>
      stateWith({ hours: { ...hoursOf(0), terrainMs: thousandths(terrainMs) } });
    expect(terrain(180_000_000)).toBe('due');
    expect(terrain(179_999_999)).toBe('coming-up');
    expect(stateWith({ hours: hoursOf(49, 75) })).toBe('due');
    expect(stateWith({ hours: { ...hoursOf(49), movingS: seconds(75 * 3600 - 1) } })).toBe('coming-up');
  });

  test('over the interval at 1.25 times either hours', () => {
    const terrain = (terrainMs: number) =>
      stateWith({ hours: { ...hoursOf(0), terrainMs: thousandths(terrainMs) } });
    expect(terrain(225_000_000)).toBe('over-interval');
    expect(terrain(224_999_999)).toBe('due');
    expect(stateWith({ hours: hoursOf(10, 93.75) })).toBe('over-interval');
    expect(stateWith({ hours: { ...hoursOf(10), movingS: seconds(93.75 * 3600 - 1) } })).toBe('due');
  });

  test('by months: coming up, due on the day, over three months later', () => {
    const none = { likely: likelyOf(null), weeksOfRides: 40 };
    const byStart = (start: string) => stateWith({ period: started(start), forecast: none });
    expect(byStart('2024-06-25')).toBe('in-time');
    expect(byStart('2024-06-24')).toBe('coming-up');
    expect(byStart('2024-06-11')).toBe('coming-up');
    expect(byStart('2024-06-10')).toBe('due');
    expect(byStart('2024-03-11')).toBe('due');
    expect(byStart('2024-03-10')).toBe('over-interval');
  });

  test('29 February and twelve months is 28 February', () => {
    const on = (now: string) => stateWith({ period: started('2024-02-29'), today: day(now), noticeDays: 0 });
    expect([on('2025-02-27'), on('2025-02-28'), on('2025-05-27'), on('2025-05-28')]).toEqual([
      'in-time',
      'due',
      'due',
      'over-interval',
    ]);
  });

  test('coming up when the 50 % date falls inside the notice period', () => {
    const with50 = (p50: string, noticeDays = 14) =>
      stateWith({
        noticeDays,
        forecast: { likely: likelyOf('2025-06-12', p50, '2026-01-01'), weeksOfRides: 40 },
      });
    expect([with50('2025-06-24'), with50('2025-06-25'), with50('2025-06-25', 15)]).toEqual([
      'coming-up',
      'in-time',
      'coming-up',
    ]);
  });

  test('with under six weeks of rides, also at 8 hours or a fifth of the interval left, whichever is less', () => {
    const left = (hoursLeft: number, interval: number, weeksOfRides: number) =>
      stateWith({
        hours: hoursOf(interval - hoursLeft, 0),
        interval: { terrainHours: interval, months: null, movingHoursCeiling: null, rule: 'kind' },
        forecast: { likely: likelyOf('2026-06-10'), weeksOfRides },
      });
    expect([left(8, 50, 5), left(8.001, 50, 5), left(8, 50, 6)]).toEqual(['coming-up', 'in-time', 'in-time']);
    expect([left(6, 30, 5), left(6.001, 30, 5)]).toEqual(['coming-up', 'in-time']);
  });

  test('a crash mark stands above the bench, the bench above hours, an unknown history above being over', () => {
    const over = { hours: hoursOf(99), isOnBench: true };
    expect(stateWith({ ...over, hasCrashMark: true })).toBe('stop-riding');
    expect(stateWith(over)).toBe('on-the-bench');
    expect(stateWith({ hours: hoursOf(99), period: { ...period, isKnown: false } })).toBe('history-unknown');
    expect(standingOf(input({ ...over, hasCrashMark: true }))).toMatchObject({
      hoursLeft: -49,
      limit: 'terrain-hours',
    });
  });
});

test('an unknown history tells its hours and nothing that it cannot know', () => {
  const unknown = { ...period, start: null, isKnown: false };
  expect(standingOf(input({ period: unknown, hours: hoursOf(61) }))).toMatchObject({
    terrainMs: 61 * 3_600_000,
    hoursLeft: null,
    limit: 'none',
    likely: likelyOf(null),
  });
});

describe('which limit comes first', () => {
  const foretold = { likely: likelyOf('2025-08-01', '2025-09-01', '2025-11-01'), weeksOfRides: 40 };

  test('months where their date comes before the 50 % date, and each likely day is the earlier', () => {
    const standing = standingOf(input({ period: started('2024-08-15'), forecast: foretold }));
    expect(standing.limit).toBe('months');
    expect(standing.likely).toEqual(likelyOf('2025-08-01', '2025-08-15', '2025-08-15'));
  });

  test('of two hours limits the one of which the larger share is used', () => {
    expect(standingOf(input({ hours: hoursOf(20, 31) })).limit).toBe('moving-hours');
    expect(standingOf(input({ hours: hoursOf(20, 30) })).limit).toBe('terrain-hours');
    expect(standingOf(input({ hours: hoursOf(20, 29) })).limit).toBe('terrain-hours');
    expect(standingOf(input({ hours: hoursOf(0) })).limit).toBe('terrain-hours');
  });

  test('none where there is none, and months alone where there are no hours', () => {
    const interval = { terrainHours: null, months: null, movingHoursCeiling: null, rule: 'unit' as const };
    expect(standingOf(input({ interval }))).toMatchObject({
      limit: 'none',
      state: 'in-time',
      hoursLeft: null,
      likely: likelyOf(null),
    });
    expect(standingOf(input({ interval: { ...interval, months: 12 } }))).toMatchObject({
      limit: 'months',
      likely: likelyOf('2026-01-01'),
    });
  });

  test('of reached ones the one reached earliest, and the likely days are that day', () => {
    const reached = { terrainHours: day('2025-05-20'), movingHours: day('2025-05-04') };
    const both = { hours: hoursOf(55, 80), reached };
    expect(standingOf(input(both))).toMatchObject({ limit: 'moving-hours', likely: likelyOf('2025-05-04') });
    expect(standingOf(input({ ...both, period: started('2024-05-01') }))).toMatchObject({
      limit: 'months',
      likely: likelyOf('2025-05-01'),
    });
  });

  test('a limit that was passed before counting began came first', () => {
    const reached = { terrainHours: 'before' as const, movingHours: day('2025-05-04') };
    expect(standingOf(input({ hours: hoursOf(55, 80), reached }))).toMatchObject({
      limit: 'terrain-hours',
      likely: likelyOf('2025-01-01'),
    });
  });
});

test('more hours or a later day never make a state milder', () => {
  const milder = ['in-time', 'coming-up', 'due', 'over-interval'];
  const hour = fc.integer({ min: 0, max: 120 });
  fc.assert(
    fc.property(hour, hour, hour, fc.nat(400), (terrain, moving, more, daysOn) => {
      const later = (days: number) =>
        new Date(Date.UTC(2025, 5, 10 + days)).toISOString().slice(0, 10) as Day;
      const rank = (rest: Partial<StandingInput>) => milder.indexOf(stateWith(rest));
      const now = rank({ hours: hoursOf(terrain, moving) });
      expect(now).toBeGreaterThanOrEqual(0);
      expect(rank({ hours: hoursOf(terrain + more, moving) })).toBeGreaterThanOrEqual(now);
      expect(rank({ hours: hoursOf(terrain, moving + more) })).toBeGreaterThanOrEqual(now);
      expect(rank({ hours: hoursOf(terrain, moving), today: later(daysOn) })).toBeGreaterThanOrEqual(now);
    }),
  );
});
