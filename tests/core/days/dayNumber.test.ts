import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dayNumber, dayOfNumber } from '../../../src/core/days/dayNumber.js';
import { DAY_MS, day } from '../../../src/units.js';

const platformDay = (count: number): string => new Date(count * DAY_MS).toISOString().slice(0, 10);

describe('day numbers', () => {
  it('count from 1970, over leap days and centuries', () => {
    expect(dayNumber(day('1970-01-01'))).toBe(0);
    expect(dayNumber(day('2000-02-29'))).toBe(11_016);
    expect(dayNumber(day('2000-03-01'))).toBe(11_017);
    expect(dayOfNumber(-1)).toBe('1969-12-31');
  });

  it("agree with the platform's calendar and lead back", () => {
    fc.assert(
      fc.property(fc.integer({ min: -700_000, max: 2_900_000 }), (count) => {
        expect(dayOfNumber(count)).toBe(platformDay(count));
        expect(dayNumber(dayOfNumber(count))).toBe(count);
      }),
    );
  });
});
