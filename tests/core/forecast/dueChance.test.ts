import { describe, expect, it } from 'vitest';
import { addDays } from '../../../src/core/days/calendar.js';
import {
  chanceDueBy,
  type ForeseenChance,
  isForeseeable,
  monthsEnd,
} from '../../../src/core/forecast/dueChance.js';
import type { Standing } from '../../../src/core/ledger/due.js';
import { day } from '../../../src/units.js';
import { standingWith, ZONE } from '../ledger/ledgerBuilders.js';

const today = day('2025-06-10');
/** Reached with 5 % after 5 days, 10 % after 10, and so on to 95 % after 95. */
const quantileDays = Array.from({ length: 19 }, (_, i) => addDays(today, 5 * (i + 1)));
const likely = { p10: quantileDays[1]!, p50: quantileDays[9]!, p90: quantileDays[17]! };
const foreseen = (
  rest: Partial<Standing> = {},
  forecast: ForeseenChance['forecast'] = { quantileDays, likely, weeksOfRides: 60 },
): ForeseenChance => ({
  standing: standingWith({
    interval: { terrainHours: 50, months: null, movingHoursCeiling: null, rule: 'kind' },
    ...rest,
  }),
  forecast,
  restarts: ['lower-leg'],
});
const by = (days: number, of: ForeseenChance): number => chanceDueBy(of, addDays(today, days), ZONE);

describe('the chance that a service has fallen due', () => {
  it('follows the forecast of the hours', () => {
    expect(by(0, foreseen())).toBe(0);
    expect(by(10, foreseen())).toBeCloseTo(0.1, 12);
    expect(by(52, foreseen())).toBeCloseTo(0.52, 12);
    expect(by(500, foreseen())).toBeCloseTo(0.95, 12);
    expect(by(-1, foreseen())).toBe(0);
  });

  it('is certain from the end of the months, and from when a limit is reached', () => {
    const interval = { terrainHours: 50, months: 12, movingHoursCeiling: null, rule: 'kind' as const };
    const yearly = foreseen({ interval, periodStart: day('2024-06-20') });
    expect(monthsEnd(yearly.standing)).toBe('2025-06-20');
    expect([by(9, yearly), by(10, yearly)]).toEqual([expect.closeTo(0.09, 12), 1]);
    expect(by(0, foreseen({ state: 'due' }))).toBe(1);
    expect(by(0, foreseen({ state: 'over-interval' }))).toBe(1);
  });

  it('is told only where something can be foreseen', () => {
    for (const state of ['history-unknown', 'on-the-bench', 'stop-riding'] as const) {
      expect(isForeseeable(foreseen({ state }))).toBe(false);
      expect(by(500, foreseen({ state }))).toBe(0);
    }
    expect(by(500, foreseen({}, {}))).toBe(0);
  });
});
