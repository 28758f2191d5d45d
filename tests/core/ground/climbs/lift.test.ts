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
};
const chair: Leg = { seconds: 480, mps: 2.5, upMps: 0.7, turnAround: 180 };
const HOWS: readonly (readonly [string, RecordedHow])[] = [
  ['a device', {}],
  ['positions alone', { format: 'gpx' }],
  ['a receiver that jitters', { format: 'gpx', jitterM: 1.5, eleJitterM: 1 }],
  ['a device whose receiver jitters', { jitterM: 3, eleJitterM: 0.5 }],
];

describe.each(HOWS)('a day of lifts, from %s', (_, how) => {
  it('counts 10 × 4 minutes down and leaves 10 × 8 minutes up out, without a question', () => {
    const reading = readLegs(repeated(10, down, chair), how);
    expect(Math.abs(reading.movingS / 60 - 40)).toBeLessThan(2);
    expect(Math.abs(leftOutS(reading, 'lift') / 60 - 80)).toBeLessThan(2);
    expect(reading.question).toBeNull();
    expect(reading.doubtful).toBeNull();
  });

  it('takes the queue at the bottom for neither', () => {
    const queue: Leg = { seconds: 123, mps: 0 };
    const reading = readLegs(repeated(10, down, queue, chair, queue), how);
    expect(Math.abs(reading.movingS / 60 - 40)).toBeLessThan(2);
    expect(Math.abs(leftOutS(reading, 'lift') / 60 - 80)).toBeLessThan(2);
  });

  it('follows a cabin that slows on its way', () => {
    const slows = (fast: number, slow: number) => (s: number) => (s > 200 && s < 240 ? slow : fast);
    const cabin: Leg = { seconds: 480, mps: slows(5, 2), upMps: slows(1, 0.4), turnAround: 170 };
    const reading = readLegs(repeated(4, down, cabin), how);
    expect(leftOutS(reading, 'lift')).toBeGreaterThan(1700);
    expect(Math.abs(reading.movingS / 60 - 16)).toBeLessThan(3);
  });
});

describe('no lift', () => {
  it.each(HOWS)('is a pedalled climb with hairpins at 0.5 to 0.6 m/s upward, from %s', (_, how) => {
    for (const mps of [2.5, 3.5, 5]) {
      const climb: Leg = {
        seconds: 600,
        mps: uneven(mps),
        upMps: (s) => 0.55 + 0.05 * Math.sin(s / 20),
        turn: switchbacks(45),
      };
      const reading = readLegs([{ seconds: 300, mps: 6 }, climb, down], how);
      expect(reading.leftOut).toEqual([]);
      expect(reading.question).toBeNull();
      expect(Math.abs(reading.movingS - 1140)).toBeLessThanOrEqual(8);
    }
  });

  it('is a straight road climbed at half that rate', () => {
    const reading = readLegs([{ seconds: 1800, mps: 4, upMps: 0.3 }]);
    expect(reading.movingS).toBe(1800);
  });

  it('is found without elevation', () => {
    const legs = [down, { ...chair, upMps: Number.NaN }];
    expect(leftOutS(readLegs(legs), 'lift')).toBe(0);
  });
});
