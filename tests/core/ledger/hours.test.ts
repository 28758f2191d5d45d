import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { chargedRides, hoursIn, reachedIn } from '../../../src/core/ledger/hours.js';
import type { CountedRide, Fitting } from '../../../src/core/ledger/ledger.js';
import { currentPeriod } from '../../../src/core/ledger/period.js';
import { CLAMP, FLEET_CLAMP } from '../../../src/core/ledger/weight.js';
import { day, hoursOfThousandths, seconds, thousandths } from '../../../src/units.js';
import { at, fittingOf, hoursOf, periodInput, rideOf, unitOf, ZONE } from './ledgerBuilders.js';

const now = at('2025-12-31T12:00:00Z');
const charge = (fittings: readonly Fitting[], rides: readonly CountedRide[], factor = 1, clamp = CLAMP) =>
  chargedRides({ fittings, rides, factor, clampOf: () => clamp, now });

describe('a ride goes whole to what was fitted at its start', () => {
  test('fittings are half open', () => {
    const swapAt = '2025-06-01T10:00:00Z';
    const before = [fittingOf('2025-01-01', swapAt)];
    const after = [fittingOf(swapAt)];
    const rides = [rideOf('2025-06-01T09:59:59Z', 600), rideOf(swapAt, 30)];
    expect(charge(before, rides).map((one) => one.rideId)).toEqual([rides[0]!.id]);
    expect(charge(after, rides).map((one) => one.rideId)).toEqual([rides[1]!.id]);
  });

  test('another bike, a boxed unit and a ride to come add nothing', () => {
    const fittings = [fittingOf('2025-01-01', '2025-02-01'), fittingOf('2025-05-01')];
    const rides = [
      rideOf('2025-01-10T10:00:00Z', 60, 1, 'b2'),
      rideOf('2025-03-10T10:00:00Z', 60),
      rideOf('2026-01-10T10:00:00Z', 60),
    ];
    expect(charge(fittings, rides)).toEqual([]);
  });

  test('three hours at 0.9 moved from one bike to the other: 46.0 and 12.0 become 43.3 and 14.7', () => {
    const known = (terrainHours: number) =>
      unitOf({ history: { terrainHours, movingHours: terrainHours, asOf: day('2025-06-01') } });
    const hoursOn = (bikeId: string, unit: ReturnType<typeof unitOf>, rides: readonly CountedRide[]) =>
      hoursOfThousandths(
        hoursOf(periodInput({ unit, fittings: [fittingOf('2025-01-01', null, bikeId)] }), rides).hours
          .terrainMs,
      );
    const onA = rideOf('2025-06-05T09:00:00Z', 180, 0.9, 'a');
    const [a, b] = [known(43.3), known(12)];
    expect([hoursOn('a', a, [onA]), hoursOn('b', b, [onA])]).toEqual([46, 12]);
    const moved = { ...onA, bikeId: 'b' };
    expect([hoursOn('a', a, [moved]), hoursOn('b', b, [moved])]).toEqual([43.3, 14.7]);
  });
});

describe('weight', () => {
  const fittings = [fittingOf('2025-01-01')];
  test('with factor 1 it is exactly the ride’s', () => {
    const ride = { ...rideOf('2025-06-01T09:00:00Z', 60), groundMs: thousandths(3_141_593) };
    expect(charge(fittings, [ride])[0]!.terrainMs).toBe(3_141_593);
  });

  test('the product with the factor stays between the bounds, wider ones for a fleet', () => {
    const terrainOf = (weight: number, factor: number, clamp = CLAMP) =>
      charge(fittings, [rideOf('2025-06-01T09:00:00Z', 60, weight)], factor, clamp)[0]!.terrainMs / 3_600_000;
    expect(terrainOf(2, 1.2)).toBeCloseTo(2.4, 9);
    expect(terrainOf(2.8, 1.2)).toBe(3);
    expect(terrainOf(2.8, 1.2, FLEET_CLAMP)).toBeCloseTo(3.36, 9);
    expect(terrainOf(3.9, 1.2, FLEET_CLAMP)).toBe(4);
    expect(terrainOf(0.55, 0.8)).toBe(0.5);
  });

  test('sums do not depend on the order of rides', () => {
    const ride = fc.record({
      minute: fc.integer({ min: 0, max: 400_000 }),
      movingS: fc.integer({ min: 0, max: 40_000 }),
      weight: fc.double({ min: 0.5, max: 3, noNaN: true }),
    });
    fc.assert(
      fc.property(
        fc.array(ride, { maxLength: 40 }),
        fc.double({ min: 0.7, max: 1.5, noNaN: true }),
        (list, factor) => {
          const rides = list.map(({ minute, movingS, weight }, i) => ({
            id: `r${i}`,
            bikeId: 'b1',
            start: (at('2025-01-02T00:00:00Z') + minute * 60_000) as CountedRide['start'],
            movingS: seconds(movingS),
            groundMs: thousandths(movingS * 1000 * weight),
          }));
          const period = currentPeriod(periodInput());
          const sum = hoursIn(period, charge(fittings, rides, factor));
          expect(hoursIn(period, charge(fittings, [...rides].reverse(), factor).reverse())).toEqual(sum);
          expect(sum.movingS).toBe(
            rides.filter((one) => one.start <= now).reduce((s, one) => s + one.movingS, 0),
          );
          expect(Number.isInteger(sum.terrainMs)).toBe(true);
        },
      ),
    );
  });
});

test('38.0 of 50 hours and six rides of 45 minutes at weight 1 are 42.5', () => {
  const history = { terrainHours: 38, movingHours: 38, asOf: day('2025-06-01') };
  const rides = [2, 4, 6, 8, 10, 12].map((d) =>
    rideOf(`2025-06-${String(d).padStart(2, '0')}T17:00:00Z`, 45),
  );
  const { hours } = hoursOf(periodInput({ unit: unitOf({ history }) }), rides);
  expect(hoursOfThousandths(hours.terrainMs)).toBe(42.5);
  expect(hours.movingS).toBe(42.5 * 3600);
});

describe('when a limit was reached', () => {
  const interval = { terrainHours: 3, months: null, movingHoursCeiling: 4, rule: 'kind' as const };
  const rides = [1, 2, 3].map((d) => rideOf(`2025-06-0${d}T17:00:00Z`, 90));
  const fittings = [fittingOf('2025-01-01')];

  test('the day of the ride that filled it, exactly full included', () => {
    const period = currentPeriod(periodInput());
    expect(reachedIn(period, charge(fittings, rides), interval, ZONE)).toEqual({
      terrainHours: '2025-06-02',
      movingHours: '2025-06-03',
    });
    expect(reachedIn(period, charge(fittings, rides.slice(0, 1)), interval, ZONE)).toEqual({
      terrainHours: null,
      movingHours: null,
    });
  });

  test('before, where the period began beyond it', () => {
    const unit = unitOf({ history: { terrainHours: 3, movingHours: 2, asOf: day('2025-05-01') } });
    const period = currentPeriod(periodInput({ unit }));
    expect(reachedIn(period, charge(fittings, rides.slice(0, 1)), interval, ZONE)).toEqual({
      terrainHours: 'before',
      movingHours: null,
    });
  });
});
