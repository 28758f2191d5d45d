/** Ten thousand random deliveries against a slow, obvious reference. Invented throughout. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Sensor } from '../../../src/core/ground/samples/recording.js';
import { DEFAULT_WEIGHTS } from '../../../src/core/ledger/weight.js';
import type { BikeKnowledge, SensorConfirmation } from '../../../src/core/rides/attribution.js';
import { nearSets } from '../../../src/core/rides/nearInTime.js';
import { isCounted, type Part, type Ride } from '../../../src/core/rides/ride.js';
import { namedBikeOf, ownPlaceOf, settleRides } from '../../../src/core/rides/settle.js';
import type { Question } from '../../../src/core/tokens.js';
import { at, bikeOf, knowledge, partOf, readingOf } from '../../fixtures/readings.js';
import { OWNER, type ReferenceRide, referenceRides } from './settleReference.js';

const word = fc.record(
  {
    'same-ride-unclear': fc.boolean(),
    'same-ride-shifted': fc.boolean(),
    'which-bike': fc.boolean(),
    'sport-unclear': fc.boolean(),
  },
  { requiredKeys: [] },
);

const sensor = fc.constantFrom<Sensor>(
  { id: 'speed:1', boundTo: 'bike' },
  { id: 'power:2', boundTo: 'unknown' },
  { id: 'heart:3', boundTo: 'rider' },
);

const named = fc.oneof(
  fc.record({ bikeId: fc.constantFrom('b1', 'b2', 'b3', 'h1'), rule: fc.constant('chosen' as const) }),
  fc.record({
    bikeId: fc.constantFrom('b1', 'b2', 'b3', 'h1', null),
    rule: fc.constant('subfolder' as const),
  }),
);

const rarely = <T>(value: fc.Arbitrary<T>): fc.Arbitrary<T | undefined> =>
  fc.option(value, { nil: undefined, freq: 5 });

/** Quarter hours of two days, so that overlaps of every kind are common; minutes beside them make clocks differ. */
const recording = fc.record({
  minute: fc.oneof(
    fc.integer({ min: 0, max: 40 }).map((quarter) => quarter * 15),
    fc.integer({ min: 0, max: 200 }).map((quarter) => quarter * 15),
    fc.integer({ min: 0, max: 600 }),
  ),
  minutes: fc.constantFrom(15, 30, 31, 45, 60, 60, 60, 90, 120),
  rider: fc.constantFrom('r1', 'r1', 'r1', 'r2', null),
  named: fc.oneof(
    { weight: 3, arbitrary: fc.constant([]) },
    { weight: 3, arbitrary: fc.constant([{ bikeId: 'b1', rule: 'subfolder' as const }]) },
    { weight: 1, arbitrary: fc.array(named, { minLength: 1, maxLength: 1 }) },
    { weight: 1, arbitrary: fc.array(named, { minLength: 2, maxLength: 2 }) },
  ),
  sensors: fc.oneof(
    { weight: 2, arbitrary: fc.constant<Sensor[]>([]) },
    { weight: 3, arbitrary: fc.constant<Sensor[]>([{ id: 'speed:1', boundTo: 'bike' }]) },
    { weight: 1, arbitrary: fc.array(sensor, { maxLength: 2 }) },
  ),
  damage: fc.constantFrom(null, null, null, 'cut-off' as const),
  question: fc.constantFrom(null, null, null, 'sport-unclear' as const, 'clock-unset' as const),
  sketch: fc.constant(null),
  ride: rarely(word),
  bikeId: rarely(fc.constantFrom('b1', 'b2', 'h1')),
  riderId: rarely(fc.constantFrom('r1', 'r2')),
  on: rarely(fc.integer({ min: 0, max: 40 }).map((quarter) => quarter * 15)),
});
type Recording = typeof recording extends fc.Arbitrary<infer T> ? T : never;

const DAWN = at('2025-06-10T06:00:00Z');
const timeAt = (minute: number) => new Date(DAWN + minute * 60_000).toISOString();

const partsOf = (recordings: readonly Recording[]): Part[] =>
  recordings.map((one, i) => {
    const { damage, question, sketch, sensors } = one;
    const reading = readingOf(timeAt(one.minute), one.minutes, { damage, question, sketch, sensors });
    return {
      ...partOf(reading, { riderId: one.rider, named: one.named }),
      readingId: `p${i}`,
      answer: {
        ...(one.ride && { ride: one.ride as Partial<Record<Question, boolean>> }),
        ...(one.bikeId && { bikeId: one.bikeId }),
        ...(one.riderId && { riderId: one.riderId }),
        ...(one.on !== undefined && { on: at(timeAt(one.on)) }),
      },
    };
  });

const BIKES = Object.entries(OWNER).map(([id, riderId]) => ({ bike: bikeOf(id, 'trail', riderId) }));

/** What the recordings themselves teach. */
function knownFrom(parts: readonly Part[]): BikeKnowledge {
  const taught: Record<string, SensorConfirmation[]> = {};
  for (const part of parts) {
    const bikeId = namedBikeOf(part);
    const { start, end } = ownPlaceOf(part, knowledge(BIKES));
    if (bikeId === null || start === null || end === null) continue;
    for (const { id } of part.reading.sensors) taught[id] = [...(taught[id] ?? []), { bikeId, start, end }];
  }
  return knowledge(BIKES, taught);
}

const settle = (parts: readonly Part[]): Ride[] => settleRides(parts, knownFrom(parts), DEFAULT_WEIGHTS);

const shown = (rides: readonly Ride[]): ReferenceRide[] =>
  rides
    .map((ride) => ({
      ids: [...ride.readingIds].sort().join(' '),
      bike: ride.bikeId,
      rider: null,
      asks: ride.question !== null,
      dismissed: ride.dismissed,
      minutes: ride.movingS / 60,
    }))
    .sort((a, b) => (a.ids < b.ids ? -1 : 1));

const byBike = (rides: readonly Ride[]): Record<string, number> => {
  const sums: Record<string, number> = {};
  for (const ride of rides.filter(isCounted)) sums[ride.bikeId!] = (sums[ride.bikeId!] ?? 0) + ride.movingS;
  return sums;
};

/** The library's own comparison is slow, so that it only has to tell what differs. */
function expectEqual(actual: object, expected: object): void {
  if (JSON.stringify(actual) !== JSON.stringify(expected)) expect(actual).toEqual(expected);
}

describe('10 000 random deliveries', () => {
  it('come to the rides of the reference, and to the same in any order', () => {
    const seen = { joined: 0, asks: 0, dismissed: 0, bySensor: 0, damaged: 0, counted: 0 };
    const deliveries = fc.array(recording, { minLength: 1, maxLength: 7 });
    const orders = fc.array(fc.nat(), { minLength: 7, maxLength: 7 });
    fc.assert(
      fc.property(deliveries, orders, (recordings, order) => {
        const parts = partsOf(recordings);
        const rides = settle(parts);
        expectEqual(shown(rides), referenceRides(parts));
        const shuffled = parts
          .map((part, i) => ({ part, key: order[i]! }))
          .sort((a, b) => a.key - b.key)
          .map(({ part }) => part);
        expectEqual(settle(shuffled), rides);
        seen.joined += rides.filter((ride) => ride.readingIds.length > 1).length;
        seen.asks += rides.filter((ride) => ride.question !== null).length;
        seen.dismissed += rides.filter((ride) => ride.dismissed).length;
        seen.bySensor += rides.filter((ride) => ride.bikeRule === 'sensor').length;
        seen.damaged += rides.filter((ride) => ride.damage !== null).length;
        seen.counted += rides.filter(isCounted).length;
      }),
      { numRuns: 10_000, seed: 20250610 },
    );
    // The check is worth what it met.
    for (const count of Object.values(seen)) expect(count).toBeGreaterThan(50);
  }, 120_000);

  it('settled in sets that are far apart, come to the rides of all together', () => {
    const days = fc.array(fc.tuple(recording, fc.integer({ min: 0, max: 5 })), {
      minLength: 2,
      maxLength: 9,
    });
    let parted = 0;
    fc.assert(
      fc.property(days, (dated) => {
        const parts = partsOf(dated.map(([one, day]) => ({ ...one, minute: one.minute + day * 900 })));
        const known = knownFrom(parts);
        const placed = parts.map((part) => ({ readingId: part.readingId, ...ownPlaceOf(part, known) }));
        const sets = nearSets(placed).map((ids) => parts.filter((part) => ids.includes(part.readingId)));
        const byId = (a: Ride, b: Ride): number => (a.id < b.id ? -1 : 1);
        const inSets = sets.flatMap((some) => settleRides(some, known, DEFAULT_WEIGHTS)).sort(byId);
        expectEqual(inSets, settleRides(parts, known, DEFAULT_WEIGHTS).sort(byId));
        if (sets.length > 1 && sets.some((set) => set.length > 1)) parted += 1;
      }),
      { numRuns: 2000, seed: 12 },
    );
    expect(parted).toBeGreaterThan(500);
  }, 60_000);

  it('given twice, or split in two deliveries, count no second more or less on any bike', () => {
    const deliveries = fc.array(recording, { minLength: 1, maxLength: 5 });
    fc.assert(
      fc.property(deliveries, fc.nat(5), (recordings, cut) => {
        const parts = partsOf(recordings);
        const once = byBike(settle(parts));
        const again = parts.map((part) => ({ ...part, readingId: `${part.readingId} again` }));
        const isClear = parts.every((part) => part.named.length < 2 && part.reading.sensors.length === 0);
        if (isClear) expect(byBike(settle([...parts, ...again]))).toEqual(once);
        expect(byBike(settle([...parts.slice(cut), ...parts.slice(0, cut)]))).toEqual(once);
      }),
      { numRuns: 2000, seed: 7 },
    );
  }, 60_000);
});
