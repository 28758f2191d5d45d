import { describe, expect, test } from 'vitest';
import { currentPeriod, periodsOf } from '../../../src/core/ledger/period.js';
import { day } from '../../../src/units.js';
import { at, fittingOf, hoursOf, periodInput, rideOf, serviceOf, startOf, unitOf } from './ledgerBuilders.js';

describe('the first period', () => {
  test('of a new unit begins with its first fitting', () => {
    const fittings = [fittingOf('2025-04-01'), fittingOf('2025-02-03T15:00:00Z', '2025-03-01')];
    expect(currentPeriod(periodInput({ fittings }))).toMatchObject({
      periodId: 'start',
      start: '2025-02-03',
      from: at('2025-02-03T15:00:00Z'),
      isKnown: true,
      baseMovingS: 0,
    });
    expect(currentPeriod(periodInput({ fittings: [] }))).toMatchObject({ start: null, isKnown: true });
  });

  test('of a unit with an unknown history has no start', () => {
    const period = currentPeriod(periodInput({ unit: unitOf({ history: 'unknown' }) }));
    expect(period).toMatchObject({ periodId: 'start', start: null, from: null, isKnown: false });
  });

  test('of one whose hours were known on a day goes on from that day', () => {
    const history = { terrainHours: 12.5, movingHours: 14, asOf: day('2025-03-10') };
    const rides = [rideOf('2025-03-09T10:00:00Z', 60), rideOf('2025-03-10T00:00:00Z', 60)];
    const { period, hours } = hoursOf(periodInput({ unit: unitOf({ history }) }), rides);
    expect(period).toMatchObject({ start: '2025-03-10', isKnown: true });
    expect(hours).toEqual({ movingS: 15 * 3600, terrainMs: 13.5 * 3_600_000 });
  });
});

describe('a service', () => {
  test('begins a period of the kinds that it restarts, and of no other', () => {
    const services = [serviceOf('2025-05-02', ['damper', 'lower-leg'])];
    expect(currentPeriod(periodInput({ services }))).toMatchObject({
      periodId: 's 2025-05-02',
      start: '2025-05-02',
    });
    const full = periodInput({ services, serviceKind: 'full' });
    expect(currentPeriod(full).periodId).toBe('start');
  });

  test('of an unknown unit makes known what it restarts; the rest stays unknown', () => {
    const unit = unitOf({ history: 'unknown' });
    const services = [serviceOf('2025-05-02')];
    expect(currentPeriod(periodInput({ unit, services })).isKnown).toBe(true);
    expect(currentPeriod(periodInput({ unit, services, serviceKind: 'damper' })).isKnown).toBe(false);
  });

  test('wipers only at 52 hours leave 52 hours', () => {
    const rides = Array.from({ length: 26 }, (_, i) =>
      rideOf(`2025-02-${String(i + 1).padStart(2, '0')}T09:00:00Z`, 120),
    );
    const before = hoursOf(periodInput(), rides).hours;
    const after = hoursOf(periodInput({ services: [serviceOf('2025-03-01', [])] }), rides).hours;
    expect(after).toEqual(before);
    expect(after.terrainMs).toBe(52 * 3_600_000);
  });

  test('the day counts in the new period: done 3 June, entered 10 June, four hours since', () => {
    const rides = [
      rideOf('2025-06-02T18:00:00Z', 300),
      rideOf('2025-06-02T23:00:00Z', 60), // midnight in Lisbon
      rideOf('2025-06-03T07:00:00Z', 90),
      rideOf('2025-06-08T07:00:00Z', 90),
    ];
    const done = serviceOf('2025-06-03', ['lower-leg'], { recordedAt: at('2025-06-10T12:00:00Z') });
    const { hours } = hoursOf(periodInput({ services: [done], today: day('2025-06-10') }), rides);
    expect(hours).toEqual({ movingS: 4 * 3600, terrainMs: 4 * 3_600_000 });
  });

  test('dated later than today has not happened yet', () => {
    const services = [serviceOf('2025-06-11')];
    expect(currentPeriod(periodInput({ services, today: day('2025-06-10') })).periodId).toBe('start');
    expect(currentPeriod(periodInput({ services, today: day('2025-06-11') })).periodId).toBe('s 2025-06-11');
  });

  test('keeps its period when its date is corrected', () => {
    const [before, after] = ['2025-06-03', '2025-06-01'].map((on) =>
      currentPeriod(periodInput({ services: [serviceOf(on, ['lower-leg'], { id: 's1' })] })),
    );
    expect([before!.periodId, after!.periodId]).toEqual(['s1', 's1']);
    expect(after!.start).toBe('2025-06-01');
  });

  test('of two on one day the one entered later is the later', () => {
    const early = serviceOf('2025-06-03', ['lower-leg'], { id: 'z', recordedAt: at('2025-06-03T10:00:00Z') });
    const late = serviceOf('2025-06-03', ['lower-leg'], { id: 'a', recordedAt: at('2025-06-03T11:00:00Z') });
    expect(periodsOf(periodInput({ services: [late, early] })).map((one) => one.periodId)).toEqual([
      'start',
      'z',
      'a',
    ]);
  });
});

describe('all periods', () => {
  test('meet without gap or overlap', () => {
    const services = [serviceOf('2025-09-01'), serviceOf('2025-03-01'), serviceOf('2025-05-02', ['damper'])];
    const periods = periodsOf(periodInput({ services }));
    expect(periods.map((one) => one.periodId)).toEqual(['start', 's 2025-03-01', 's 2025-09-01']);
    expect(periods.map((one) => one.to)).toEqual([startOf('2025-03-01'), startOf('2025-09-01'), null]);
    expect(periods.slice(1).map((one) => one.from)).toEqual(periods.slice(0, -1).map((one) => one.to));
  });

  test('known hours belong to the period that holds their day', () => {
    const unit = unitOf({ history: { terrainHours: 12.5, movingHours: 14, asOf: day('2025-03-10') } });
    const services = [serviceOf('2024-11-01'), serviceOf('2025-02-01'), serviceOf('2025-07-01')];
    const periods = periodsOf(periodInput({ unit, services }));
    expect(periods.map((one) => one.baseTerrainMs / 3_600_000)).toEqual([0, 0, 12.5, 0]);
    expect(periods.map((one) => one.isKnown)).toEqual([false, false, true, true]);
    expect(periods[1]).toMatchObject({ start: '2024-11-01', from: startOf('2024-11-01') });
    expect(periods[2]).toMatchObject({ start: '2025-02-01', from: startOf('2025-03-10') });
  });

  test('a service on the day of the known hours begins at nought', () => {
    const unit = unitOf({ history: { terrainHours: 12.5, movingHours: 14, asOf: day('2025-03-10') } });
    const periods = periodsOf(periodInput({ unit, services: [serviceOf('2025-03-10')] }));
    expect(periods.map((one) => one.baseTerrainMs / 3_600_000)).toEqual([12.5, 0]);
  });
});
