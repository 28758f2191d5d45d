import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  addDays,
  addMonths,
  atHour,
  dayOf,
  daysBetween,
  earlierDay,
  isTimeZone,
  nextOpenDays,
  startOfDay,
  weekdayOf,
} from '../../../src/core/days/calendar.js';
import { parseDay } from '../../../src/core/days/dayNumber.js';
import { day, HOUR_MS, type Instant, isoTime } from '../../../src/units.js';

/** Returns the hour on the zone's clocks, 0 to 23. */
const localHour = (at: Instant, zone: string): number =>
  Number(new Intl.DateTimeFormat('en', { hour: '2-digit', hourCycle: 'h23', timeZone: zone }).format(at));

const at = (text: string): Instant => Date.parse(text) as Instant;
const ZONES = [
  'Europe/Lisbon',
  'Europe/Berlin',
  'America/Sao_Paulo',
  'Africa/Cairo',
  'Australia/Lord_Howe',
  'Pacific/Apia',
  'America/St_Johns',
  'Asia/Kathmandu',
];

describe('parseDay', () => {
  test.each(['2024-02-29', '2025-12-31', '1989-12-31'])('takes %s', (text) => {
    expect(parseDay(text)).toBe(text);
  });
  test.each([
    '2025-02-29',
    '2025-13-01',
    '2025-00-10',
    '2025-04-31',
    '2025-1-1',
    '01.02.2025',
    '',
    '2025-01-01T00:00',
  ])('refuses %j', (text) => expect(parseDay(text)).toBeNull());
});

test('a zone is one of the IANA names', () => {
  expect(isTimeZone('Europe/Lisbon')).toBe(true);
  expect(isTimeZone('Middle/Nowhere')).toBe(false);
});

describe('a day in a zone', () => {
  test('Lisbon, where summer time begins and ends at 01:00 UTC', () => {
    const zone = 'Europe/Lisbon';
    expect(isoTime(startOfDay(day('2025-03-30'), zone))).toBe('2025-03-30T00:00:00Z');
    expect(isoTime(startOfDay(day('2025-03-31'), zone))).toBe('2025-03-30T23:00:00Z');
    expect(startOfDay(day('2025-03-31'), zone) - startOfDay(day('2025-03-30'), zone)).toBe(23 * HOUR_MS);
    expect(startOfDay(day('2025-10-27'), zone) - startOfDay(day('2025-10-26'), zone)).toBe(25 * HOUR_MS);
    expect(dayOf(at('2025-03-30T23:30:00Z'), zone)).toBe('2025-03-31');
    expect(dayOf(at('2025-10-26T23:30:00Z'), zone)).toBe('2025-10-26');
    expect(localHour(at('2025-03-30T00:59:59Z'), zone)).toBe(0);
    expect(localHour(at('2025-03-30T01:00:00Z'), zone)).toBe(2);
    expect([0, 1].map((h) => localHour(at(`2025-10-26T0${h}:30:00Z`), zone))).toEqual([1, 1]);
  });

  test('Berlin, an hour ahead of that', () => {
    const zone = 'Europe/Berlin';
    expect(isoTime(startOfDay(day('2025-03-31'), zone))).toBe('2025-03-30T22:00:00Z');
    expect(startOfDay(day('2025-03-31'), zone) - startOfDay(day('2025-03-30'), zone)).toBe(23 * HOUR_MS);
  });

  test('begins at 01:00 where the clock jumps over midnight', () => {
    expect(isoTime(startOfDay(day('2018-11-04'), 'America/Sao_Paulo'))).toBe('2018-11-04T03:00:00Z');
    expect(localHour(startOfDay(day('2018-11-04'), 'America/Sao_Paulo'), 'America/Sao_Paulo')).toBe(1);
    expect(localHour(startOfDay(day('2025-04-25'), 'Africa/Cairo'), 'Africa/Cairo')).toBe(1);
    expect(dayOf(at('2018-11-04T02:59:59Z'), 'America/Sao_Paulo')).toBe('2018-11-03');
    expect(dayOf(at('2018-11-04T03:00:00Z'), 'America/Sao_Paulo')).toBe('2018-11-04');
  });

  test('a day that a zone left out has no moment', () => {
    const zone = 'Pacific/Apia';
    expect(startOfDay(day('2011-12-30'), zone)).toBe(startOfDay(day('2011-12-31'), zone));
    expect(dayOf(at('2011-12-30T09:59:59Z'), zone)).toBe('2011-12-29');
    expect(dayOf(at('2011-12-30T10:00:00Z'), zone)).toBe('2011-12-31');
  });

  test('a moment lies between the start of its day and of the next, and days never run backwards', () => {
    const moment = fc.integer({ min: at('2005-01-01T00:00:00Z'), max: at('2035-01-01T00:00:00Z') });
    fc.assert(
      fc.property(fc.constantFrom(...ZONES), moment, fc.nat(3 * HOUR_MS), (zone, ms, later) => {
        const on = dayOf(ms as Instant, zone);
        expect(startOfDay(on, zone)).toBeLessThanOrEqual(ms);
        expect(startOfDay(addDays(on, 1), zone)).toBeGreaterThan(ms);
        expect(dayOf((ms + later) as Instant, zone) >= on).toBe(true);
      }),
    );
  });

  test('an hour that is jumped over or comes twice is one moment', () => {
    expect(isoTime(atHour(day('2025-06-10'), 7, 'Europe/Lisbon'))).toBe('2025-06-10T06:00:00Z');
    expect(isoTime(atHour(day('2025-03-30'), 1, 'Europe/Lisbon'))).toBe('2025-03-30T01:00:00Z');
    expect(isoTime(atHour(day('2025-10-26'), 1, 'Europe/Lisbon'))).toBe('2025-10-26T00:00:00Z');
  });
});

test('the first and the last day that can be written are days of every zone', () => {
  for (const zone of ['UTC', 'Europe/Lisbon', 'Pacific/Kiritimati', 'Etc/GMT+12'])
    for (const of of ['0000-01-01', '9999-12-31'].map(day))
      expect([zone, dayOf(startOfDay(of, zone), zone)]).toEqual([zone, of]);
});

describe('arithmetic of days', () => {
  test('a month that lacks the day ends on its last', () => {
    expect(addMonths(day('2024-02-29'), 12)).toBe('2025-02-28');
    expect(addMonths(day('2025-01-31'), 1)).toBe('2025-02-28');
    expect(addMonths(day('2025-08-31'), 3)).toBe('2025-11-30');
    expect(addMonths(day('2025-02-28'), 12)).toBe('2026-02-28');
  });

  test('days between, over leap years and backwards', () => {
    expect(daysBetween(day('2024-02-28'), day('2024-03-01'))).toBe(2);
    expect(daysBetween(day('2025-03-01'), day('2025-02-28'))).toBe(-1);
    expect(addDays(day('2024-12-31'), 1)).toBe('2025-01-01');
    fc.assert(
      fc.property(fc.integer({ min: -20_000, max: 40_000 }), (count) => {
        expect(daysBetween(day('2020-02-29'), addDays(day('2020-02-29'), count))).toBe(count);
      }),
    );
  });

  test('the earlier of two days that may be missing', () => {
    expect(earlierDay(day('2025-01-02'), day('2025-01-01'))).toBe('2025-01-01');
    expect(earlierDay(null, day('2025-01-01'))).toBe('2025-01-01');
    expect(earlierDay(day('2025-01-01'), null)).toBe('2025-01-01');
    expect(earlierDay(null, null)).toBeNull();
  });
});

describe('open days', () => {
  const openDays = ['tue', 'wed', 'thu', 'fri', 'sat'] as const;
  test('leaves out weekdays and closed days, and counts the day itself', () => {
    expect(weekdayOf(day('2025-06-10'))).toBe('tue');
    expect(nextOpenDays(day('2025-06-10'), 3, openDays, [day('2025-06-11')])).toEqual([
      '2025-06-10',
      '2025-06-12',
      '2025-06-13',
    ]);
    expect(nextOpenDays(day('2025-06-15'), 1, openDays, [])).toEqual(['2025-06-17']);
  });
  test('a workshop that never opens has none', () => {
    expect(nextOpenDays(day('2025-06-10'), 3, [], [])).toEqual([]);
  });
});
