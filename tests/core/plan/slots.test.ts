import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addDays, weekdayOf } from '../../../src/core/days/calendar.js';
import {
  type Bench,
  type BenchWork,
  freeDays,
  isFree,
  minutesOn,
  offeredDays,
  usableMinutesOn,
} from '../../../src/core/plan/slots.js';
import { WEEKDAYS } from '../../../src/core/tokens.js';
import { type Day, day } from '../../../src/units.js';

/** A Tuesday. */
const today = day('2025-06-10');
const bench: Bench = {
  openDays: ['tue', 'wed', 'thu', 'fri', 'sat'],
  closedDays: [day('2025-06-13')],
  placesAWeek: null,
  minutesADay: 300,
};
const work = (on: string, minutes = 60): BenchWork => ({ day: day(on), minutes });
const none = { taken: [], expected: [] };
const wish = (likely: string | null, count = 3) => ({
  today,
  jobMinutes: 60,
  likely: likely as Day | null,
  count,
});

describe('isFree', () => {
  it('knows open days, closed days and nothing of today', () => {
    expect(isFree(bench, [], day('2025-06-12'), 60)).toBe(true);
    expect(isFree(bench, [], day('2025-06-13'), 60)).toBe(false);
    expect(isFree(bench, [], day('2025-06-16'), 60)).toBe(false);
    expect(freeDays(bench, [], today, 60)[0]).toBe('2025-06-11');
  });

  it('uses 80 % of the bench minutes, to the minute', () => {
    const taken = [work('2025-06-12', 180)];
    expect(isFree(bench, taken, day('2025-06-12'), 60)).toBe(true);
    expect(isFree(bench, taken, day('2025-06-12'), 61)).toBe(false);
  });

  it('gives a job longer than that an empty day', () => {
    expect(isFree(bench, [], day('2025-06-12'), 400)).toBe(true);
    expect(isFree(bench, [work('2025-06-12', 10)], day('2025-06-12'), 400)).toBe(false);
  });

  it('counts places from Monday to Sunday', () => {
    const two = { ...bench, placesAWeek: 2 };
    const taken = [work('2025-06-10'), work('2025-06-14')];
    expect(isFree(two, taken, day('2025-06-12'), 60)).toBe(false);
    expect(isFree(two, taken, day('2025-06-17'), 60)).toBe(true);
  });
});

describe('offeredDays', () => {
  it('offers what is due as soon as can be', () => {
    const soon = ['2025-06-11', '2025-06-12', '2025-06-14'];
    expect(offeredDays(bench, none, wish(null))).toEqual(soon);
    expect(offeredDays(bench, none, wish('2025-06-01'))).toEqual(soon);
  });

  it('offers days of the week in which it is likely due, not after that day', () => {
    expect(offeredDays(bench, none, wish('2025-06-26'))).toEqual(['2025-06-24', '2025-06-25', '2025-06-26']);
  });

  it('offers the nearest earlier week that is not crowded, whether by bookings or by what is expected', () => {
    const full = ['2025-06-24', '2025-06-25', '2025-06-26', '2025-06-27', '2025-06-28'].map((on) =>
      work(on, 240),
    );
    const earlier = ['2025-06-17', '2025-06-18', '2025-06-19'];
    expect(offeredDays(bench, { taken: [], expected: full }, wish('2025-06-26'))).toEqual(earlier);
    expect(offeredDays(bench, { taken: full, expected: [] }, wish('2025-06-26'))).toEqual(earlier);
    const both = [...full, ...full.map((one) => ({ ...one, day: addDays(one.day, -7) }))];
    expect(offeredDays(bench, { taken: [], expected: both }, wish('2025-06-26'))).toEqual([
      '2025-06-11',
      '2025-06-12',
      '2025-06-14',
    ]);
  });

  it('goes past the likely day only where nothing is free before it', () => {
    const closed = { ...bench, closedDays: [day('2025-06-11'), day('2025-06-12'), day('2025-06-13')] };
    expect(offeredDays(closed, none, wish('2025-06-14'))).toEqual(['2025-06-14', '2025-06-17', '2025-06-18']);
  });

  it('offers nothing where the workshop is closed', () => {
    expect(offeredDays({ ...bench, openDays: [] }, none, wish(null))).toEqual([]);
  });

  it('never offers a day without a place, one that has come, or one beyond six weeks', () => {
    const on = fc.integer({ min: -3, max: 50 }).map((n) => addDays(today, n));
    const works = fc.array(fc.record({ day: on, minutes: fc.integer({ min: 10, max: 200 }) }), {
      maxLength: 60,
    });
    fc.assert(
      fc.property(
        works,
        works,
        fc.option(on),
        fc.integer({ min: 1, max: 8 }),
        fc.constantFrom(null, 1, 3, 8),
        fc.subarray([...WEEKDAYS]),
        (taken, expected, likely, count, placesAWeek, openDays) => {
          const one = { ...bench, placesAWeek, openDays };
          const days = offeredDays(one, { taken, expected }, { today, jobMinutes: 60, likely, count });
          expect(days.length).toBe(Math.min(count, freeDays(one, taken, today, 60).length));
          expect([...new Set(days)].sort()).toEqual(days);
          for (const offered of days) {
            expect(isFree(one, taken, offered, 60)).toBe(true);
            expect(openDays).toContain(weekdayOf(offered));
            expect(offered > today && offered <= addDays(today, 42)).toBe(true);
          }
        },
      ),
      { numRuns: 200 },
    );
  });
});

describe('people at the bench', () => {
  const alma = { name: 'Alma', days: ['tue', 'wed'], minutesADay: 200, off: ['2026-06-10'] } as const;
  const bo = { name: 'Bo', days: ['wed'], minutesADay: 100, off: [] } as const;
  const bench: Bench = {
    ...{ openDays: ['tue', 'wed'], closedDays: ['2026-06-16' as Day], placesAWeek: null, minutesADay: 480 },
    people: [alma, bo] as unknown as NonNullable<Bench['people']>,
  };
  it('a day has the minutes of those who work on it, all together', () => {
    // 9 June is a Tuesday; on 10 June one is away; on 16 June the workshop is closed.
    const days = ['2026-06-09', '2026-06-10', '2026-06-16', '2026-06-17', '2026-06-18'] as Day[];
    expect(days.map((day) => minutesOn(bench, day))).toEqual([200, 100, 0, 300, 0]);
    expect(days.map((day) => usableMinutesOn(bench, day))).toEqual([160, 80, 0, 240, 0]);
  });
  it('a day on which nobody works is free for nothing, however short', () => {
    const away = { ...bench, people: [{ ...bo, off: ['2026-06-10' as Day] }] };
    expect(isFree(away, [], '2026-06-10' as Day, 1)).toBe(false);
    expect(isFree(away, [], '2026-06-17' as Day, 500)).toBe(true);
  });
  it('without anybody named each open day has the bench’s own minutes', () => {
    expect(minutesOn({ ...bench, people: [] }, '2026-06-10' as Day)).toBe(480);
  });
});
