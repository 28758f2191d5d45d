import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { placeOnBench } from '../../../src/core/plan/raceBench.js';
import { USED_SHARE } from '../../../src/core/plan/slots.js';
import { day } from '../../../src/units.js';

/** 480 minutes a day, of which 384 are used, on weekdays. Monday 2 June 2025. */
const bench = {
  openDays: ['mon', 'tue', 'wed', 'thu', 'fri'],
  closedDays: [],
  placesAWeek: null,
  minutesADay: 480,
} as const;
const today = day('2025-06-02');
const by = day('2025-06-04');
const task = (minutes: number, until: string | null = by) => ({
  minutes,
  by: until === null ? null : day(until),
  booked: null,
});
const place = (tasks: ReturnType<typeof task>[], order: 'due-first' | 'short-first' = 'due-first') =>
  placeOnBench(bench, [], tasks, { today, order });

describe('jobs before a race on the bench', () => {
  it('twenty forks of 150 minutes by Wednesday at 384 a day: two a day, fourteen do not fit', () => {
    const days = place(Array.from({ length: 20 }, () => task(150)));
    expect(days.filter((one) => one !== null)).toEqual([
      ...['2025-06-02', '2025-06-02', '2025-06-03', '2025-06-03', '2025-06-04', '2025-06-04'],
    ]);
  });

  it('what is due first goes first; with the shortest first more are done', () => {
    const tasks = [task(300, '2025-06-02'), ...[1, 2, 3, 4].map(() => task(90, '2025-06-02'))];
    expect(place(tasks).filter((one) => one !== null)).toHaveLength(1);
    expect(place(tasks, 'short-first').filter((one) => one !== null)).toHaveLength(4);
    expect(place([task(384, '2025-06-03'), task(384, '2025-06-02')])).toEqual(['2025-06-03', '2025-06-02']);
  });

  it('closed days, what is taken, places a week and days that passed leave no time', () => {
    const closed = { ...bench, closedDays: [today] };
    expect(placeOnBench(closed, [], [task(60, '2025-06-02')], { today, order: 'due-first' })).toEqual([null]);
    const taken = [{ day: today, minutes: 330 }];
    expect(placeOnBench(bench, taken, [task(60)], { today, order: 'due-first' })).toEqual(['2025-06-03']);
    const few = { ...bench, placesAWeek: 1 };
    expect(placeOnBench(few, [], [task(30), task(30)], { today, order: 'due-first' })).toEqual([today, null]);
    expect(place([task(60, '2025-06-01'), task(60, null)])).toEqual([null, null]);
  });

  it('what has a day keeps it, and is not counted twice', () => {
    const booked = { ...task(150), booked: day('2025-06-03') };
    const taken = [{ day: day('2025-06-03'), minutes: 150 }];
    expect(placeOnBench(bench, taken, [booked], { today, order: 'due-first' })).toEqual(['2025-06-03']);
  });

  it('never fills a day beyond its share, nor puts anything after its day', () => {
    const tasks = fc.array(
      fc.record({
        minutes: fc.integer({ min: 10, max: 384 }),
        by: fc.constantFrom('2025-06-01', '2025-06-03', '2025-06-06', '2025-06-13').map(day),
        booked: fc.constant(null),
      }),
      { maxLength: 40 },
    );
    fc.assert(
      fc.property(tasks, fc.constantFrom('due-first' as const, 'short-first' as const), (some, order) => {
        const days = placeOnBench(bench, [], some, { today, order });
        const used = new Map<string, number>();
        for (const [i, one] of days.entries()) {
          if (one === null) continue;
          expect(one >= today && one <= some[i]!.by).toBe(true);
          used.set(one, (used.get(one) ?? 0) + some[i]!.minutes);
        }
        for (const minutes of used.values()) expect(minutes).toBeLessThanOrEqual(480 * USED_SHARE);
      }),
    );
  });
});
