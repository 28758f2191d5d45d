import { describe, expect, it } from 'vitest';
import type { Reading } from '../../../src/core/ground/samples/reading.js';
import { DEFAULT_WEIGHTS } from '../../../src/core/ledger/weight.js';
import { isCounted, type Part, type Ride } from '../../../src/core/rides/ride.js';
import { settleRides } from '../../../src/core/rides/settle.js';
import { isoTime } from '../../../src/units.js';
import { at, bikeOf, knowledge, on, partOf, readingOf } from '../../fixtures/readings.js';

const settle = (parts: readonly Part[], known = knowledge()): Ride[] =>
  settleRides(parts, known, DEFAULT_WEIGHTS);
const minutesOf = (rides: readonly Ride[]): number =>
  rides.filter(isCounted).reduce((sum, ride) => sum + ride.movingS, 0) / 60;

describe('the same ride in several recordings', () => {
  it('recorder 09:00–11:00, phone 09:10–11:20, all moving: 2 h 20 once', () => {
    const rides = settle([
      partOf(readingOf('2025-06-10T09:00:00Z', 120)),
      partOf(readingOf('2025-06-10T09:10:00Z', 130, { format: 'gpx' })),
    ]);
    expect(rides).toHaveLength(1);
    expect([minutesOf(rides), isoTime(rides[0]!.start!), isoTime(rides[0]!.end!)]).toEqual([
      140,
      '2025-06-10T09:00:00Z',
      '2025-06-10T11:20:00Z',
    ]);
  });

  it('what one recorder missed and the other saw is counted, and what both saw once', () => {
    const halves = readingOf('2025-06-10T09:00:00Z', 60, {
      moving: [
        [0, 20 * 60_000],
        [40 * 60_000, 60 * 60_000],
      ],
    });
    const middle = readingOf('2025-06-10T09:00:00Z', 60, { moving: [[15 * 60_000, 45 * 60_000]] });
    expect(minutesOf(settle([partOf(halves), partOf(middle)]))).toBe(60);
  });

  it('a chain of three is one ride', () => {
    const starts = ['09:00', '09:30', '10:00'].map((time) => partOf(readingOf(`2025-06-10T${time}:00Z`, 60)));
    const rides = settle(starts);
    expect([rides.length, minutesOf(rides)]).toEqual([1, 120]);
  });

  it('takes the ground of the better elevation', () => {
    const terrain = (index: number, quality: number) => ({
      ...readingOf(null, 0).terrain,
      classS: Array.from({ length: 16 }, (_, i) => (i === index ? 3600 : 0)),
      quality,
    });
    const poor = partOf(readingOf('2025-06-10T09:00:00Z', 60, { terrain: terrain(15, 0.2) }));
    const good = partOf(readingOf('2025-06-10T09:00:00Z', 60, { terrain: terrain(2, 0.95) }));
    expect(settle([poor, good])[0]).toMatchObject({ quality: 0.95, terrainMs: settle([good])[0]!.terrainMs });
  });

  it('a sound file replaces a damaged one of the same stretch, whichever came first', () => {
    const damaged = partOf(
      readingOf('2025-06-10T09:00:00Z', 50, { damage: 'checksum', moving: [[0, 90 * 60_000]] }),
    );
    const sound = partOf(readingOf('2025-06-10T09:00:00Z', 60));
    for (const parts of [
      [damaged, sound],
      [sound, damaged],
    ]) {
      const [ride, ...others] = settle(parts);
      expect([others.length, ride!.movingS, ride!.damage]).toEqual([0, 3600, null]);
    }
    expect(settle([damaged])[0]).toMatchObject({ damage: 'checksum', question: null });
  });

  it('a group ride is two rides, and one bike ridden by one rider in two hands is one', () => {
    const bikes = [{ bike: bikeOf('b1') }, { bike: bikeOf('b2', 'trail', 'r2') }];
    const first = partOf(readingOf('2025-06-10T09:00:00Z', 60), on('b1'));
    const second = partOf(readingOf('2025-06-10T09:00:00Z', 60), { riderId: 'r2', ...on('b2') });
    expect(settle([first, second], knowledge(bikes))).toHaveLength(2);
    const nobodys = partOf(readingOf('2025-06-10T09:05:00Z', 60), { riderId: null, ...on('b1') });
    expect(minutesOf(settle([first, nobodys], knowledge(bikes)))).toBe(65);
  });
});

describe('questions', () => {
  const long = () => partOf(readingOf('2025-06-10T09:00:00Z', 90));
  const short = (answer: Part['answer'] = {}) => partOf(readingOf('2025-06-10T10:20:00Z', 30), { answer });

  it('of two that overlap by less than half the shorter waits, until somebody says', () => {
    const asked = settle([long(), short()]);
    expect(asked.map((ride) => ride.question)).toEqual([null, 'same-ride-unclear']);
    expect([minutesOf(asked), asked[1]!.otherRideId]).toEqual([90, asked[0]!.id]);
    expect(minutesOf(settle([long(), short({ ride: { 'same-ride-unclear': true } })]))).toBe(120);
    expect(minutesOf(settle([long(), short({ ride: { 'same-ride-unclear': false } })]))).toBe(110);
  });

  it('a like ride that no zone explains waits; a person makes it one or two, and back again', () => {
    const sketch = [12_000, 3_000, ...Array.from({ length: 48 }, (_, i) => 20 * i), 700, 300, 300, 700];
    const first = partOf(readingOf('2025-06-10T09:00:00Z', 60, { sketch }));
    const twin = (answer: Part['answer'] = {}) =>
      partOf(readingOf('2025-06-10T10:07:00Z', 60, { sketch }), { answer });
    expect(settle([first, twin()]).map((ride) => ride.question)).toEqual([null, 'same-ride-shifted']);
    expect(minutesOf(settle([first, twin({ ride: { 'same-ride-shifted': true } })]))).toBe(120);
    const no = settle([first, twin({ ride: { 'same-ride-shifted': false } })]);
    expect([minutesOf(no), no.map((ride) => ride.shiftsMs)]).toEqual([60, [[0, -67 * 60_000]]]);
    const said = (word: number | false): Part[] => {
      const other = twin();
      return [
        { ...first, answer: { joins: { [other.readingId]: word } } },
        { ...other, answer: { joins: { [first.readingId]: word === false ? false : -word } } },
      ];
    };
    expect(minutesOf(settle(said(false)))).toBe(120);
    expect(minutesOf(settle(said(-67 * 60_000)))).toBe(60);
  });

  it('a vehicle is asked about with both sums; yes counts it, no leaves it out, and a twin does not bring it back', () => {
    const doubtful: Reading['doubtful'] = {
      moving: [[60 * 60_000, 72 * 60_000]],
      classS: new Array<number>(16).fill(0),
    };
    const uplift = readingOf('2025-06-10T09:00:00Z', 120, {
      moving: [
        [0, 60 * 60_000],
        [72 * 60_000, 120 * 60_000],
      ],
      doubtful,
      question: 'vehicle',
    });
    const twin = partOf(readingOf('2025-06-10T09:00:00Z', 120, { format: 'gpx' }));
    const told = (ride?: boolean) =>
      partOf(uplift, ride === undefined ? {} : { answer: { ride: { vehicle: ride } } });
    expect(settle([told()])[0]).toMatchObject({ question: 'vehicle', movingS: 108 * 60 });
    expect(minutesOf(settle([told(true)]))).toBe(120);
    expect(minutesOf(settle([told(false)]))).toBe(108);
    expect(minutesOf(settle([told(false), twin]))).toBe(108);
    expect(settle([told(), twin])[0]!.question).toBe('vehicle');
  });

  it('a clock that was never set is asked, and the answer sets it', () => {
    const unset = readingOf('1989-12-31T00:10:00Z', 60, { question: 'clock-unset' });
    expect(settle([partOf(unset)])[0]!.question).toBe('clock-unset');
    const told = settle([partOf(unset, { answer: { on: at('2025-06-10T09:00:00Z') } })]);
    expect([minutesOf(told), isoTime(told[0]!.start!)]).toEqual([60, '2025-06-10T09:00:00Z']);
  });

  it('a track without times is asked for when and how long, and counts so', () => {
    const untimed = readingOf(null, 0, { question: 'no-times' });
    expect(settle([partOf(untimed)])[0]).toMatchObject({ question: 'no-times', start: null });
    const told = settle([partOf(untimed, { answer: { on: at('2025-06-10T09:00:00Z'), minutes: 45 } })]);
    expect(minutesOf(told)).toBe(45);
    expect(settle([partOf(untimed, { answer: { ride: { 'no-times': false } } })])[0]!.dismissed).toBe(true);
  });

  it('an unclear sport needs no word when another recording of the ride says it', () => {
    const unclear = partOf(readingOf('2025-06-10T09:00:00Z', 60, { sport: null, question: 'sport-unclear' }));
    expect(settle([unclear])[0]!.question).toBe('sport-unclear');
    expect(settle([unclear, partOf(readingOf('2025-06-10T09:00:00Z', 60))])[0]!.question).toBeNull();
  });

  it('who, which bike, and two that contradict', () => {
    const two = knowledge([{ bike: bikeOf('b1') }, { bike: bikeOf('b2') }]);
    const reading = readingOf('2025-06-10T09:00:00Z', 60);
    expect(settle([partOf(reading, { riderId: null })])[0]!.question).toBe('who');
    expect(settle([partOf(reading)], two)[0]!.question).toBe('which-bike');
    const named = ['b1', 'b2'].map((bikeId) => ({ bikeId, rule: 'chosen' as const }));
    expect(settle([partOf(reading, { riderId: null, named })])[0]!.question).toBe('which-bike');
    const one = partOf(reading, on('b1', 'subfolder'));
    const other = partOf(reading, on('b2', 'subfolder'));
    expect(settle([one, other], two)[0]).toMatchObject({ question: 'which-bike', bikeId: null });
    const settled = settle([one, { ...other, answer: { bikeId: 'b2' } }], two)[0];
    expect(settled).toMatchObject({ question: null, bikeId: 'b2', bikeRule: 'chosen' });
  });

  it('indoor rides are kept and count for nothing', () => {
    const [ride] = settle([partOf(readingOf('2025-06-10T09:00:00Z', 60, { indoor: true }))]);
    expect([isCounted(ride!), ride!.terrainMs, ride!.movingS]).toEqual([false, 0, 3600]);
  });
});
