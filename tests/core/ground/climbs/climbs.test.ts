import { describe, expect, it } from 'vitest';
import type { Leg, RecordedHow } from '../../../fixtures/journey.js';
import { leftOutS, readLegs, switchbacks, uneven } from '../../../fixtures/readJourney.js';

const repeated = (times: number, ...legs: Leg[]): Leg[] => Array.from({ length: times }, () => legs).flat();
const down: Leg = {
  seconds: 240,
  mps: uneven(6),
  upMps: -1.4,
  turn: (s) => 9 * Math.sin(s / 6),
  turnAround: 180,
  heart: 140,
  cadence: (s) => (s % 40 < 8 ? 60 : 0),
};
const queue: Leg = { seconds: 123, mps: 0, heart: 100, cadence: 0 };
const chair: Leg = { seconds: 480, mps: 2.5, upMps: 0.7, turnAround: 180 };
const without = ({ heart: _, cadence: __, ...leg }: Leg): Leg => leg;
const HOWS: readonly (readonly [string, RecordedHow])[] = [
  ['a device', {}],
  ['positions alone', { format: 'gpx' }],
  ['a receiver that jitters', { format: 'gpx', jitterM: 1.5, eleJitterM: 1 }],
  ['a device whose receiver jitters', { jitterM: 3, eleJitterM: 0.5 }],
];

describe.each(HOWS)('a day of lifts, from %s', (_, how) => {
  const descent = without(down);
  it('counts 10 × 4 minutes down and leaves 10 × 8 minutes up out, without a question', () => {
    const reading = readLegs(repeated(10, descent, chair), how);
    expect(Math.abs(reading.movingS / 60 - 40)).toBeLessThan(2);
    expect(Math.abs(leftOutS(reading, 'lift') / 60 - 80)).toBeLessThan(2);
    expect(reading.question).toBeNull();
  });

  it('takes the queue at the bottom for neither', () => {
    const stands = without(queue);
    const reading = readLegs(repeated(10, descent, stands, chair, stands), how);
    expect(Math.abs(reading.movingS / 60 - 40)).toBeLessThan(2);
    expect(Math.abs(leftOutS(reading, 'lift') / 60 - 80)).toBeLessThan(2);
  });

  it('follows a cabin that slows on its way', () => {
    const slows = (fast: number, slow: number) => (s: number) => (s > 200 && s < 240 ? slow : fast);
    const cabin: Leg = { seconds: 480, mps: slows(5, 2), upMps: slows(1, 0.4), turnAround: 170 };
    const reading = readLegs(repeated(4, descent, cabin), how);
    expect(Math.abs(reading.movingS / 60 - 16)).toBeLessThan(1);
  });

  it('sees a slow lift too: 340 m in a quarter of an hour', () => {
    const slow: Leg = { seconds: 1000, mps: 2.1, upMps: 0.34, turnAround: 170 };
    const reading = readLegs(repeated(5, descent, queue, slow), how);
    expect(Math.abs(reading.movingS / 60 - 20)).toBeLessThan(1);
  });
});

describe('drives up', () => {
  const road: Leg = { seconds: 300, mps: uneven(8), upMps: 0.7, turn: switchbacks(45) };
  const track: Leg = { seconds: 240, mps: uneven(3.5), upMps: 0.32, turn: switchbacks(50) };
  const resting = { heart: 82, cadence: 0 };

  it('by road and then on a track are left out whole where a heart rests', () => {
    const laps = repeated(6, queue, { ...road, ...resting }, { ...track, ...resting }, queue, down, down);
    const reading = readLegs(laps);
    expect(Math.abs(reading.movingS / (6 * 480) - 1)).toBeLessThan(0.05);
    expect(reading.question).toBeNull();
  });

  it('on a track alone are seen by a heart that rests', () => {
    const reading = readLegs(repeated(6, queue, { ...track, ...resting, seconds: 600 }, queue, down));
    expect(Math.abs(reading.movingS / (6 * 240) - 1)).toBeLessThan(0.05);
  });

  it('are asked about, or left out, where nothing but the road tells', () => {
    const laps = repeated(6, queue, road, track, queue, down).map(without);
    const reading = readLegs(laps);
    const all = reading.climbs!.flatMap(({ moving }) => moving);
    const climbedS = all.reduce((sum, [from, to]) => sum + to - from, 0) / 1000;
    expect(Math.abs(climbedS / (6 * 540) - 1)).toBeLessThan(0.06);
    expect(reading.question === 'climbs' || Math.abs(reading.movingS / (6 * 240) - 1) < 0.05).toBe(true);
  });
});

describe('what was ridden up', () => {
  it.each(HOWS)('with hairpins at 0.3 to 0.35 m/s upward counts whole, from %s', (_, how) => {
    for (const mps of [2.5, 3.5]) {
      const climb: Leg = {
        seconds: 600,
        mps: uneven(mps),
        upMps: (s) => 0.32 + 0.04 * Math.sin(s / 20),
        turn: switchbacks(45),
      };
      const reading = readLegs([{ seconds: 300, mps: 6 }, climb, without(down)], how);
      expect(reading.question).toBeNull();
      expect(Math.abs(reading.movingS - 1140)).toBeLessThanOrEqual(8);
    }
  });

  it('on a straight road counts whole', () => {
    expect(readLegs([{ seconds: 1800, mps: uneven(4), upMps: 0.24 }]).movingS).toBe(1800);
  });

  it('by a motor at 0.55 m/s upward counts whole and asks nothing, and without one is asked about', () => {
    const climb: Leg = { seconds: 900, mps: uneven(4), upMps: 0.55, turn: switchbacks(50), heart: 118 };
    const day = repeated(3, climb, down, down);
    const helped = readLegs(day, { subSport: 'e_bike_mountain' });
    expect(helped.question).toBeNull();
    expect(helped.movingS).toBe(3 * 1380);
    const alone = readLegs(day);
    expect(alone.climbs!.length).toBeGreaterThan(0);
  });

  it('is never left out in silence of a ride with a motor: a lift is asked about', () => {
    const reading = readLegs(repeated(5, without(down), queue, chair), { subSport: 'e_bike_mountain' });
    expect(reading.question).toBe('climbs');
  });

  it('without heights is not judged', () => {
    const reading = readLegs(repeated(3, down, { ...chair, upMps: Number.NaN }).map(without));
    expect(reading.climbs).toBeUndefined();
    expect(leftOutS(reading, 'lift')).toBe(0);
  });
});

it('a file of more climbs than any day has is judged all the same', () => {
  const hop: Leg[] = [
    { seconds: 60, mps: uneven(4), upMps: 0.6 },
    { seconds: 30, mps: 6, upMps: -1.2 },
  ];
  const reading = readLegs(repeated(400, ...hop));
  expect(reading.movingS).toBe(400 * 90);
  expect(reading.question).toBeNull();
});
