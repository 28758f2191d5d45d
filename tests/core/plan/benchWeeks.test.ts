import { describe, expect, it } from 'vitest';
import { type BenchJob, benchWeeks, comingIn, weeksFrom } from '../../../src/core/plan/benchWeeks.js';
import { WEEKDAYS } from '../../../src/core/tokens.js';
import { day } from '../../../src/units.js';

const bench = { openDays: WEEKDAYS.slice(1, 6), closedDays: [], placesAWeek: null, minutesADay: 480 };
const job = (dueBy: readonly number[], rest: Partial<BenchJob> = {}): BenchJob => ({
  minutes: 60,
  response: 0.5,
  isBooked: false,
  dueBy,
  ...rest,
});
const many = (count: number, ...of: Parameters<typeof job>): BenchJob[] =>
  Array.from({ length: count }, () => job(...of));

describe('the weeks', () => {
  it('run from Monday to Sunday, the first from today', () => {
    expect(weeksFrom(day('2025-06-12'), 3)).toEqual([
      { from: '2025-06-12', to: '2025-06-15' },
      { from: '2025-06-16', to: '2025-06-22' },
      { from: '2025-06-23', to: '2025-06-29' },
    ]);
  });
});

describe('a week on the bench', () => {
  it('holds whoever comes of those that fall due in it: 8.4 due, 4.2 expected, 6 covers nine of ten', () => {
    const jobs = [...many(6, [0.9]), ...many(4, [0.5]), ...many(10, [0.1])];
    const [week] = benchWeeks(bench, jobs, weeksFrom(day('2025-06-09'), 1));
    expect(week!.due).toBeCloseTo(8.4, 12);
    expect(week!.services).toMatchObject({ mean: expect.closeTo(4.2, 12), p90: 6 });
    expect(week!.minutes).toMatchObject({ mean: expect.closeTo(252, 9), p90: 360 });
    // Five open days of 480 minutes, of which 80 % are used.
    expect([week!.openDays, week!.usableMinutes, week!.isCrowded]).toEqual([5, 1920, false]);
  });

  it('counts a job in the week in which it falls due, and no further', () => {
    const late = job([0.2, 0.5, 0.5]);
    expect([0, 1, 2].map((week) => comingIn(late, week))).toEqual([0.1, expect.closeTo(0.15, 12), 0]);
  });

  it('is crowded when more likely than not it has no place or no time for all', () => {
    const booked = many(9, [1], { response: 1, isBooked: true });
    const weeks = weeksFrom(day('2025-06-09'), 1);
    const [tight] = benchWeeks({ ...bench, placesAWeek: 8 }, booked, weeks);
    expect(tight).toMatchObject({ booked: 9, places: 8, chanceTooFull: 1, isCrowded: true });
    const [roomy] = benchWeeks({ ...bench, placesAWeek: 9 }, booked, weeks);
    expect(roomy).toMatchObject({ chanceTooFull: 0, isCrowded: false });
    const [long] = benchWeeks(bench, many(40, [1], { response: 1, minutes: 60 }), weeks);
    expect(long).toMatchObject({ minutes: { mean: 2400 }, chanceTooFull: 1, isCrowded: true });
  });

  it('that is closed has no minutes, so whatever comes is too much', () => {
    const closed = { ...bench, closedDays: ['10', '11', '12', '13', '14'].map((d) => day(`2025-06-${d}`)) };
    const [week] = benchWeeks(closed, [job([0.6], { response: 1 })], weeksFrom(day('2025-06-09'), 1));
    expect(week).toMatchObject({ openDays: 0, usableMinutes: 0, isCrowded: true });
    expect(week!.chanceTooFull).toBeCloseTo(0.6, 12);
  });
});
