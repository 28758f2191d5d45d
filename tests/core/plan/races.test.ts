import { describe, expect, it } from 'vitest';
import type { ForeseenChance } from '../../../src/core/forecast/dueChance.js';
import type { Standing } from '../../../src/core/ledger/due.js';
import { defaultRestarts } from '../../../src/core/ledger/serviceKinds.js';
import { type RaceOfBike, type RacesInput, raceNeeds } from '../../../src/core/plan/races.js';
import { WEEKDAYS } from '../../../src/core/tokens.js';
import { day, secondsOfHours, thousandthsOfHours } from '../../../src/units.js';
import { standingWith } from '../ledger/ledgerBuilders.js';

const today = day('2025-06-02');
const open = { openDays: WEEKDAYS, closedDays: [] };
/** Saturday 14 June 2025. */
const race: RaceOfBike = { raceId: 'x1', on: day('2025-06-14'), practiceHours: 4, raceHours: 3.5 };

const kind = (
  serviceKind: string,
  hours: number,
  limit: number,
  rest: Partial<Standing> = {},
): ForeseenChance => ({
  standing: standingWith({
    serviceKind,
    terrainMs: thousandthsOfHours(hours),
    movingS: secondsOfHours(hours),
    interval: { terrainHours: limit, months: null, movingHoursCeiling: null, rule: 'kind' },
    hoursLeft: limit - hours,
    ...rest,
  }),
  forecast: {},
  restarts: defaultRestarts({ unitKind: 'fork' }, serviceKind, [])!,
});
const needs = (foreseen: readonly ForeseenChance[], rest: Partial<RacesInput> = {}) =>
  raceNeeds({ foreseen, races: [race], weight: 1, open, openDaysBefore: 3, today, ...rest });

describe('before a race', () => {
  it('12.5 and 4 of practice and 3.5 of racing reach 20 exactly: by Wednesday 11 June', () => {
    expect(needs([kind('lower-leg', 12.5, 20)])).toEqual([
      {
        raceId: 'x1',
        unitId: 'u1',
        serviceKind: 'lower-leg',
        reasons: [
          {
            serviceKind: 'lower-leg',
            limit: 'terrain-hours',
            terrainHoursThen: 20,
            movingHoursThen: 20,
            limitHours: 20,
            monthsOn: null,
          },
        ],
        because: null,
        by: '2025-06-11',
        isLate: false,
        wantsShakedown: false,
      },
    ]);
  });

  it('a bike at 8.0 needs nothing, nor one a second short', () => {
    expect(needs([kind('lower-leg', 8, 20)])).toEqual([]);
    expect(needs([kind('lower-leg', 12.5 - 1 / 3600, 20)])).toEqual([]);
  });

  it('hours weigh as on the bike’s own ground', () => {
    expect(needs([kind('lower-leg', 8, 20)], { weight: 1.6 })).toMatchObject([
      { reasons: [{ limit: 'terrain-hours', terrainHoursThen: 20, movingHoursThen: 15.5 }] },
    ]);
    expect(needs([kind('lower-leg', 12.5, 20)], { weight: 0.99 })).toEqual([]);
  });

  it('a ceiling in moving hours and months ending by the race count too', () => {
    const ceiling = { terrainHours: null, months: null, movingHoursCeiling: 20, rule: 'kind' as const };
    expect(needs([kind('lower-leg', 12.5, 50, { interval: ceiling, hoursLeft: null })])).toMatchObject([
      { reasons: [{ limit: 'moving-hours' }] },
    ]);
    const yearly = { terrainHours: 50, months: 12, movingHoursCeiling: null, rule: 'kind' as const };
    const since = (start: string) =>
      needs([kind('lower-leg', 1, 50, { interval: yearly, periodStart: day(start) })]);
    expect(since('2024-06-14')).toMatchObject([{ reasons: [{ limit: 'months', monthsOn: '2025-06-14' }] }]);
    expect(since('2024-06-15')).toEqual([]);
  });

  it('a larger job takes the place of a smaller one, and damper work wants a shakedown ride', () => {
    const both = needs([kind('lower-leg', 15, 20), kind('damper', 145, 150), kind('full', 60, 200)]);
    expect(both).toMatchObject([
      {
        serviceKind: 'damper',
        wantsShakedown: true,
        reasons: [{ serviceKind: 'lower-leg' }, { serviceKind: 'damper' }],
      },
    ]);
  });

  it('an unknown history calls for the full service; a crash mark for none', () => {
    const unknown = ['lower-leg', 'damper', 'full'].map((one) =>
      kind(one, 1, 50, { state: 'history-unknown', hoursLeft: null }),
    );
    expect(needs(unknown)).toMatchObject([
      { serviceKind: 'full', reasons: [{ limit: 'none' }, { limit: 'none' }, { limit: 'none' }] },
    ]);
    expect(needs([kind('lower-leg', 30, 20, { state: 'stop-riding' })])).toEqual([]);
  });

  it('a day that has passed is late, and a workshop that never opens names no day', () => {
    expect(needs([kind('lower-leg', 12.5, 20)], { today: day('2025-06-12') })).toMatchObject([
      { by: '2025-06-11', isLate: true },
    ]);
    expect(needs([kind('lower-leg', 12.5, 20)], { open: { openDays: [], closedDays: [] } })).toMatchObject([
      { by: null, isLate: true },
    ]);
  });

  it('race follows race: hours add up until a service, which begins them anew', () => {
    const weekly = [0, 7, 14, 21].map((days, i) => ({
      ...race,
      raceId: `x${i}`,
      on: day(`2025-06-${String(7 + days).padStart(2, '0')}`),
    }));
    // 5 + 7.5 = 12.5; + 7.5 = 20, serviced before, so 7.5 after; + 7.5 = 15; + 7.5 = 22.5.
    const found = needs([kind('lower-leg', 5, 20)], { races: weekly });
    expect(found.map(({ raceId, reasons }) => [raceId, reasons[0]!.terrainHoursThen])).toEqual([
      ['x1', 20],
      ['x3', 22.5],
    ]);
  });
});
