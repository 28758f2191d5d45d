import { Temporal } from 'temporal-polyfill';
import { describe, expect, test } from 'vitest';
import {
  addDays,
  addMonths,
  dayOf,
  daysBetween,
  startOfDay,
  weekdayOf,
} from '../../src/core/days/calendar.js';
import { parseDay } from '../../src/core/days/dayNumber.js';
import { WEEKDAYS } from '../../src/core/tokens.js';
import { day, type Instant } from '../../src/units.js';

/** Node's own zone data and formatter (ICU), which shares no code with the zone library. */
const wallDay = (at: number, zone: string): string =>
  new Intl.DateTimeFormat('en-CA', {
    timeZone: zone,
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
  }).format(at);

// Source: IANA time zone data, as Node's ICU carries it.
describe('days agree with an independent reading of the zone data', () => {
  test.each([
    ['Europe/Lisbon', '2025-03-29', '2025-10-25'],
    ['Europe/Berlin', '2025-03-29', '2025-10-25'],
    ['America/New_York', '2025-03-08', '2025-11-01'],
    ['America/Sao_Paulo', '2018-11-03', '2019-02-15'],
    ['Africa/Cairo', '2025-04-24', '2025-10-30'],
    ['Australia/Lord_Howe', '2025-04-05', '2025-10-04'],
    ['Pacific/Apia', '2011-12-28', '2012-03-30'],
    ['Asia/Kathmandu', '2025-01-01', '2025-07-01'],
  ])('%s', (zone, ...changes) => {
    for (const from of changes) {
      const first = Date.parse(`${from}T00:00:00Z`);
      for (let at = first; at < first + 72 * 3_600_000; at += 15 * 60_000)
        expect(dayOf(at as Instant, zone)).toBe(wallDay(at, zone));
    }
  });

  test.each(['Europe/Lisbon', 'America/Sao_Paulo', 'Australia/Lord_Howe'])(
    'each start of a day in %s',
    (zone) => {
      for (let on = day('2018-01-01'); on < '2019-12-31'; on = addDays(on, 1)) {
        const start = startOfDay(on, zone);
        expect([wallDay(start - 1, zone), wallDay(start, zone)]).toEqual([addDays(on, -1), on]);
      }
    },
  );
});

// Source: ISO 8601 calendar and week days, by the Temporal proposal's reference behaviour.
test('arithmetic agrees with Temporal over leap years and centuries', () => {
  for (let i = 0; i < 400; i++) {
    const on = addDays(day('1999-12-25'), i * 97);
    const same = Temporal.PlainDate.from(on);
    expect(WEEKDAYS[same.dayOfWeek - 1]).toBe(weekdayOf(on));
    expect(addDays(on, 45)).toBe(same.add({ days: 45 }).toString());
    expect(daysBetween(day('2000-02-29'), on)).toBe(Temporal.PlainDate.from('2000-02-29').until(same).days);
    expect(addMonths(on, 12) <= addDays(on, 366)).toBe(true);
    expect(parseDay(on)).toBe(on);
  }
  expect([parseDay('1900-02-29'), parseDay('2000-02-29'), parseDay('2100-02-29')]).toEqual([
    null,
    '2000-02-29',
    null,
  ]);
});
