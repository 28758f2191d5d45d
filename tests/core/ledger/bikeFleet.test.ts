import fc from 'fast-check';
import { expect, test } from 'vitest';
import { fleetAt, fleetsFrom, fleetsOf } from '../../../src/core/ledger/bikeFleet.js';
import { CLAMP, clampOn, FLEET_CLAMP } from '../../../src/core/ledger/weight.js';
import { type Instant, instant, isoTime } from '../../../src/units.js';

const DAY = 86_400_000;
const at = (day: number): Instant => instant(day * DAY);

test('a bike is of the fleet that was said last for a moment', () => {
  const moves = fc.array(fc.tuple(fc.integer({ min: 1, max: 40 }), fc.constantFrom('t1', 't2', null)), {
    maxLength: 6,
  });
  fc.assert(
    fc.property(moves, fc.integer({ min: 0, max: 50 }), (said, on) => {
      let bike = { fleetId: 't0' as string | null, formerFleets: [] } as Parameters<typeof fleetsFrom>[0];
      // Day by day, what each word says: from its day on, whatever was said of later days.
      const days: (string | null)[] = Array.from({ length: 51 }, () => 't0');
      for (const [from, fleetId] of said) {
        bike = fleetsFrom(bike, fleetId, isoTime(at(from)));
        days.fill(fleetId, from);
      }
      expect(fleetAt(bike, at(on))).toBe(days[on]);
      expect(fleetsOf(bike)).toContain(days[on]);
      expect(clampOn(bike, at(on))).toBe(days[on] === null ? CLAMP : FLEET_CLAMP);
    }),
  );
});

test('one that always was of a fleet was of no other', () => {
  const bike = fleetsFrom({ fleetId: null }, 't1', isoTime(at(5)));
  expect(fleetAt(bike, at(4))).toBeNull();
  expect(fleetsFrom(bike, 't1', null)).toEqual({ fleetId: 't1', formerFleets: [] });
});
