/** Random seasons with every strange recording that was met, in random order. Invented throughout. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Stretch } from '../../../src/core/ground/samples/intervals.js';
import { lengthOf, unionOf } from '../../../src/core/ground/samples/intervals.js';
import type { PlaceMarks } from '../../../src/core/ground/samples/placeMarks.js';
import type { Reading } from '../../../src/core/ground/samples/reading.js';
import { DEFAULT_WEIGHTS } from '../../../src/core/ledger/weight.js';
import { apartWords, type JoinWord, togetherWords } from '../../../src/core/rides/putTogether.js';
import { isCounted, type Part, type Ride } from '../../../src/core/rides/ride.js';
import { settleRides } from '../../../src/core/rides/settle.js';
import { instant, seconds } from '../../../src/units.js';
import { bikeOf, knowledge, partOf, readingOf } from '../../fixtures/readings.js';

const S = 1000;
const MINUTE = 60 * S;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;
const SEASON = Date.UTC(2025, 3, 1, 8);
const KNOWN = knowledge([
  { bike: bikeOf('b1') },
  { bike: bikeOf('b2') },
  { bike: bikeOf('b3', 'trail', 'r2') },
]);

/** A ride as it truly was: when it moved, and in which cells it was. */
interface TrueRide {
  readonly day: number;
  readonly startMs: number;
  /** From its start. */
  readonly moving: readonly Stretch[];
  readonly cell: number;
}

const stretch = fc.record({
  ride: fc.integer({ min: 150, max: 1500 }),
  halt: fc.integer({ min: 35, max: 400 }),
});
const trueRide = fc.record({
  hour: fc.integer({ min: 0, max: 6 }),
  second: fc.integer({ min: 0, max: 3599 }),
  stretches: fc.array(stretch, { minLength: 5, maxLength: 9 }),
  cell: fc.integer({ min: 0, max: 40 }),
});

const SHIFTS = [
  30 * S,
  -30 * S,
  10 * MINUTE,
  -10 * MINUTE,
  HOUR,
  -HOUR,
  2 * HOUR,
  -2 * HOUR,
  5.5 * HOUR,
  -5.5 * HOUR,
  -9.75 * HOUR,
  14 * HOUR,
];
const strange = fc.oneof(
  fc.record({ kind: fc.constant('copy' as const), shift: fc.constantFrom(0, ...SHIFTS), of: fc.nat() }),
  fc.record({ kind: fc.constant('half' as const), shift: fc.constantFrom(0, HOUR, -2 * HOUR), of: fc.nat() }),
  fc.record({ kind: fc.constant('gap' as const), shift: fc.constantFrom(0), of: fc.nat() }),
  fc.record({ kind: fc.constant('noisy' as const), shift: fc.constantFrom(0, HOUR), of: fc.nat() }),
  fc.record({ kind: fc.constant('cut-off' as const), shift: fc.constantFrom(0), of: fc.nat() }),
  fc.record({
    kind: fc.constant('elsewhere' as const),
    shift: fc.constantFrom(0, 20 * MINUTE),
    of: fc.nat(),
  }),
  fc.record({ kind: fc.constant('other bike' as const), shift: fc.constantFrom(0, HOUR), of: fc.nat() }),
  fc.record({ kind: fc.constant('other rider' as const), shift: fc.constantFrom(0), of: fc.nat() }),
  fc.record({ kind: fc.constant('all day' as const), shift: fc.constantFrom(0), of: fc.nat() }),
);
type Strange = typeof strange extends fc.Arbitrary<infer T> ? T : never;
type Made = typeof trueRide extends fc.Arbitrary<infer T> ? T : never;

/** One ride in two days, so that none is near another by itself. */
function trueRidesOf(made: readonly Made[]): TrueRide[] {
  return made.map(({ hour, second, stretches, cell }, i) => {
    let at = 0;
    const moving = stretches.map(({ ride, halt }): Stretch => {
      const one: Stretch = [at * S, (at + ride) * S];
      at += ride + halt;
      return one;
    });
    return { day: i, startMs: SEASON + 2 * i * DAY + hour * HOUR + second * S, moving, cell };
  });
}

function marksOf(startMs: number, fromMs: number, toMs: number, cell: number): PlaceMarks {
  const minutes = Math.max(1, Math.ceil((toMs - fromMs) / MINUTE));
  const first = Math.floor(fromMs / MINUTE);
  return {
    key: 'k',
    recorder: null,
    fromMinute: Math.floor((startMs + fromMs) / MINUTE),
    cells: Array.from({ length: minutes }, (_, i) =>
      String(1000 + cell * 100 + Math.floor((first + i) / 3)),
    ).join(''),
  };
}

let count = 0;
function recordingOf(
  ride: TrueRide,
  moving: readonly Stretch[],
  shift: number,
  rest: Partial<Reading> = {},
  cell = ride.cell,
): Part {
  const [from, to] = [moving[0]![0], moving.at(-1)![1]];
  const startMs = ride.startMs + shift;
  const movingS = seconds(lengthOf(moving) / S);
  const reading = readingOf('2025-01-01T00:00:00Z', 1, {
    ...{
      start: instant(startMs + from),
      end: instant(startMs + to),
      movingS,
      elapsedS: seconds((to - from) / S),
    },
    moving: moving.map(([a, b]) => [a - from, b - from]),
    sketch: [12_000, 3_000, ...Array.from({ length: 48 }, (_, i) => 20 * i + cell), 700, 300, 300, 700],
    ...rest,
  });
  return {
    ...partOf(reading, { named: [{ bikeId: 'b1', rule: 'subfolder' }] }),
    readingId: `s${String(++count).padStart(6, '0')}`,
    marks: marksOf(startMs, from, to, cell),
  };
}

/** A recording, with the true moments that it holds, where it is one of a true ride of the first rider's. */
interface Recorded {
  readonly part: Part;
  readonly ofRide: number | null;
  readonly moving: readonly Stretch[];
}

function strangeOf(ride: TrueRide, index: number, { kind, shift }: Strange): Recorded {
  const gpx = { format: 'gpx' as const };
  const made = (moving: readonly Stretch[], rest: Partial<Reading> = gpx): Recorded => ({
    part: recordingOf(ride, moving, shift, rest),
    ofRide: index,
    moving,
  });
  const half = Math.ceil(ride.moving.length / 2);
  switch (kind) {
    case 'copy':
      return made(ride.moving);
    case 'half':
      return made(ride.moving.slice(0, half + 1));
    case 'gap':
      return made([...ride.moving.slice(0, 2), ...ride.moving.slice(3)]);
    case 'noisy':
      return made(ride.moving.map(([a, b], i): Stretch => [a + (i % 3) * S, b - (i % 2) * 2 * S]));
    case 'cut-off':
      return made(ride.moving.slice(0, half), { damage: 'cut-off' });
    case 'elsewhere':
      return {
        part: recordingOf(ride, ride.moving, shift, gpx, ride.cell + 50),
        ofRide: null,
        moving: ride.moving,
      };
    case 'other bike': {
      const one = made(ride.moving);
      return { ...one, part: { ...one.part, named: [{ bikeId: 'b2', rule: 'subfolder' }] } };
    }
    case 'other rider':
      return {
        part: {
          ...recordingOf(ride, ride.moving, shift),
          riderId: 'r2',
          named: [{ bikeId: 'b3', rule: 'subfolder' }],
        },
        ofRide: null,
        moving: ride.moving,
      };
    case 'all day': {
      const whole: Stretch[] = [
        ...ride.moving,
        [ride.moving.at(-1)![1] + 2 * HOUR, ride.moving.at(-1)![1] + 3 * HOUR],
      ];
      return made(whole);
    }
  }
}

interface Season {
  readonly recorded: readonly Recorded[];
  readonly rides: readonly TrueRide[];
}

function seasonOf(made: readonly Made[], odd: readonly Strange[]): Season {
  const rides = trueRidesOf(made);
  const plain = rides.map(
    (ride, i): Recorded => ({ part: recordingOf(ride, ride.moving, 0), ofRide: i, moving: ride.moving }),
  );
  return {
    rides,
    recorded: [
      ...plain,
      ...odd.map((one) => strangeOf(rides[one.of % rides.length]!, one.of % rides.length, one)),
    ],
  };
}

const settle = (parts: readonly Part[]): Ride[] => settleRides(parts, KNOWN, DEFAULT_WEIGHTS);
const countedOn = (rides: readonly Ride[], bikeId: string): number =>
  rides
    .filter((ride) => isCounted(ride) && ride.bikeId === bikeId)
    .reduce((sum, ride) => sum + ride.movingS, 0);
const shown = (rides: readonly Ride[]): string =>
  JSON.stringify([...rides].sort((a, b) => (a.id < b.id ? -1 : 1)));

function shuffled<T>(items: readonly T[], keys: readonly number[]): T[] {
  return items
    .map((item, i) => ({ item, key: keys[i % keys.length]! + i / 1000 }))
    .sort((a, b) => a.key - b.key)
    .map(({ item }) => item);
}

const seasons = fc.array(trueRide, { minLength: 1, maxLength: 4 });
const odd = fc.array(strange, { minLength: 1, maxLength: 5 });
const order = fc.array(fc.nat(1000), { minLength: 9, maxLength: 9 });
const RUNS = Number(process.env.STANCHION_RUNS ?? 400);
const seen = { joined: 0, shifted: 0, asked: 0, fell: 0 };

describe('a season with strange recordings, in random order', () => {
  it('comes to the same rides in any order', () => {
    fc.assert(
      fc.property(seasons, odd, order, (made, strangers, keys) => {
        const parts = seasonOf(made, strangers).recorded.map((one) => one.part);
        const rides = settle(parts);
        expect(shown(settle(shuffled(parts, keys)))).toBe(shown(rides));
        seen.joined += rides.filter((ride) => ride.readingIds.length > 1).length;
        seen.shifted += rides.filter((ride) => ride.shiftsMs.some((ms) => ms !== 0)).length;
        seen.asked += rides.filter((ride) => ride.question !== null).length;
      }),
      { numRuns: RUNS, seed: 1 },
    );
    for (const what of ['joined', 'shifted', 'asked'] as const)
      expect(seen[what], what).toBeGreaterThan(RUNS / 10);
  }, 240_000);

  it('loses no second that counted without a question that names its rides', () => {
    fc.assert(
      fc.property(seasons, odd, order, (made, strangers, keys) => {
        const parts = shuffled(seasonOf(made, strangers).recorded, keys).map((one) => one.part);
        for (let n = 1; n < parts.length; n++) {
          const [before, after] = [settle(parts.slice(0, n)), settle(parts.slice(0, n + 1))];
          for (const bikeId of ['b1', 'b2', 'b3']) {
            const fell = countedOn(before, bikeId) - countedOn(after, bikeId);
            if (fell <= 0) continue;
            // A sound recording may stand for a damaged one of the same stretch, but for a tenth.
            const damaged = parts.slice(0, n).filter((one) => one.reading.damage !== null);
            const replaced = damaged.reduce((sum, one) => sum + 0.1 * one.reading.movingS, 0);
            const stood = before.filter((ride) => isCounted(ride) && ride.bikeId === bikeId);
            const waits = stood.filter((ride) =>
              after.some(
                (one) => one.question !== null && one.readingIds.some((id) => ride.readingIds.includes(id)),
              ),
            );
            const named = waits.reduce((sum, ride) => sum + ride.movingS, 0);
            seen.fell += 1;
            expect(fell, JSON.stringify(strangers)).toBeLessThanOrEqual(named + replaced);
          }
        }
      }),
      { numRuns: RUNS, seed: 2 },
    );
    expect(seen.fell).toBeGreaterThan(RUNS / 20);
  }, 240_000);

  it('gains no more than the union of what was truly ridden, by 1 %', () => {
    fc.assert(
      fc.property(seasons, odd, (made, strangers) => {
        const { recorded, rides } = seasonOf(made, strangers);
        const truth = rides.reduce((sum, _, i) => {
          const all = recorded.filter((one) => one.ofRide === i).flatMap((one) => one.moving);
          return sum + lengthOf(unionOf(all)) / S;
        }, 0);
        // What was ridden elsewhere, or by another, is riding of its own.
        const others = recorded
          .filter((one) => one.ofRide === null && one.part.riderId === 'r1')
          .reduce((sum, one) => sum + lengthOf(one.moving) / S, 0);
        const settled = settle(recorded.map((one) => one.part));
        const counted = countedOn(settled, 'b1') + countedOn(settled, 'b2');
        expect(counted, JSON.stringify(strangers)).toBeLessThanOrEqual(1.01 * (truth + others));
      }),
      { numRuns: RUNS, seed: 3 },
    );
  }, 240_000);

  it('has each joining undone and redone to the second', () => {
    const withWords = (parts: readonly Part[], words: readonly JoinWord[]): Part[] =>
      parts.map((part) => {
        const own = words.filter((word) => word.readingId === part.readingId).map((word) => word.joins);
        return { ...part, answer: { ...part.answer, joins: Object.assign({}, part.answer.joins, ...own) } };
      });
    let undone = 0;
    fc.assert(
      fc.property(seasons, odd, (made, strangers) => {
        const parts = seasonOf(made, strangers).recorded.map((one) => one.part);
        const rides = settle(parts);
        const joined = rides.find((ride) => ride.readingIds.length > 1 && isCounted(ride));
        if (!joined) return;
        const [first, ...rest] = joined.readingIds;
        const apart = withWords(parts, apartWords([first!], rest));
        const parted = settle(apart);
        const own = parted.find((ride) => ride.readingIds.includes(first!))!.readingIds;
        expect(own.filter((id) => rest.includes(id))).toEqual([]);
        const rideOf = (id: string) => {
          const ride = parted.find((one) => one.readingIds.includes(id))!;
          const byId = ride.readingIds.map((own) => apart.find((part) => part.readingId === own)!);
          return { parts: byId, shiftsMs: ride.shiftsMs };
        };
        const others = [
          ...new Set(rest.map((id) => parted.find((ride) => ride.readingIds.includes(id))!.id)),
        ];
        const words = others.flatMap((id) => togetherWords(rideOf(first!), rideOf(id)));
        const again = settle(withWords(apart, words)).find((ride) => ride.readingIds.includes(first!))!;
        expect(again.readingIds).toEqual(expect.arrayContaining([...joined.readingIds]));
        // Another recording that waited may have joined meanwhile.
        if (again.readingIds.length === joined.readingIds.length) expect(again.movingS).toBe(joined.movingS);
        undone += 1;
      }),
      { numRuns: RUNS, seed: 4 },
    );
    expect(undone).toBeGreaterThan(RUNS / 10);
  }, 240_000);
});
