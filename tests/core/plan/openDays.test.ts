import { describe, expect, it } from 'vitest';
import {
  isOpen,
  lastOpenDay,
  mondayOf,
  openDaysBefore,
  openDaysIn,
} from '../../../src/core/plan/openDays.js';
import { WEEKDAYS } from '../../../src/core/tokens.js';
import { day } from '../../../src/units.js';

const everyDay = { openDays: WEEKDAYS, closedDays: [] };
const tueToSat = { openDays: ['tue', 'wed', 'thu', 'fri', 'sat'] as const, closedDays: [day('2025-06-12')] };

describe('open days', () => {
  it('are the days of the week that are open, less those closed', () => {
    // 14 June 2025 was a Saturday.
    expect(isOpen(tueToSat, day('2025-06-14'))).toBe(true);
    expect(isOpen(tueToSat, day('2025-06-15'))).toBe(false);
    expect(isOpen(tueToSat, day('2025-06-12'))).toBe(false);
    expect(openDaysIn(tueToSat, day('2025-06-09'), day('2025-06-15'))).toEqual([
      '2025-06-10',
      '2025-06-11',
      '2025-06-13',
      '2025-06-14',
    ]);
  });

  it('three before Saturday 14 June, every day open, is Wednesday 11 June', () => {
    expect(openDaysBefore(everyDay, day('2025-06-14'), 3)).toBe('2025-06-11');
    expect(openDaysBefore(everyDay, day('2025-06-14'), 0)).toBe('2025-06-14');
    expect(openDaysBefore(tueToSat, day('2025-06-14'), 3)).toBe('2025-06-10');
    expect(openDaysBefore(tueToSat, day('2025-06-14'), 4)).toBe('2025-06-07');
  });

  it('end where none comes', () => {
    const never = { openDays: [], closedDays: [] };
    expect(lastOpenDay(never, day('2025-06-14'))).toBeNull();
    expect(openDaysBefore(never, day('2025-06-14'), 3)).toBeNull();
  });

  it('weeks begin on Monday', () => {
    expect(mondayOf(day('2025-06-09'))).toBe('2025-06-09');
    expect(mondayOf(day('2025-06-15'))).toBe('2025-06-09');
    expect(mondayOf(day('1969-12-31'))).toBe('1969-12-29');
  });
});
