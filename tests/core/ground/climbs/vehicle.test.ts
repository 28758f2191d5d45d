import { describe, expect, it } from 'vitest';
import { journey, type Leg, recordingOf } from '../../../fixtures/journey.js';
import { leftOutS, readingOf, readLegs, switchbacks, uneven } from '../../../fixtures/readJourney.js';

const trail: Leg = { seconds: 900, mps: uneven(5), turn: switchbacks(60) };
const down: Leg = { seconds: 400, mps: uneven(6), upMps: -1, turn: switchbacks(60) };
const stop: Leg = { seconds: 90, mps: 0 };
const uplift = (seconds: number): Leg => ({ seconds, mps: uneven(8), upMps: 0.6, turn: switchbacks(45) });

describe.each([
  ['a device', {}],
  ['positions alone', { format: 'gpx' }],
  ['a receiver that jitters', { format: 'gpx', jitterM: 2, eleJitterM: 2 }],
] as const)('a vehicle, from %s', (_, how) => {
  it('is asked about after 12 minutes up a road, and kept apart', () => {
    const reading = readLegs([trail, stop, uplift(720), stop, down], how);
    expect(reading.question).toBe('vehicle');
    expect(Math.abs(leftOutS(reading, 'vehicle') - 720)).toBeLessThanOrEqual(20);
    expect(Math.abs(reading.movingS - 1300)).toBeLessThanOrEqual(30);
    const apart = reading.doubtful!.moving;
    expect(apart[0]![0]).toBeGreaterThanOrEqual(970_000);
    expect(apart.at(-1)![1]).toBeLessThanOrEqual(1_730_000);
    expect(reading.moving.every(([from, to]) => to <= apart[0]![0] || from >= apart.at(-1)![1])).toBe(true);
  });

  it('is asked about when two stretches make the ten minutes', () => {
    const reading = readLegs([trail, stop, uplift(480), stop, down, stop, uplift(480), stop, down], how);
    expect(reading.question).toBe('vehicle');
    expect(Math.abs(leftOutS(reading, 'vehicle') - 960)).toBeLessThanOrEqual(40);
  });

  it('is not asked about for 8 minutes', () => {
    const reading = readLegs([trail, stop, uplift(480), stop, down], how);
    expect(reading.question).toBeNull();
    expect(leftOutS(reading, 'vehicle')).toBe(0);
  });

  it('is asked about for a train, from its departure to its arrival', () => {
    const train: Leg = { seconds: 1200, mps: (s) => Math.min(38, s / 4, (1200 - s) / 4) };
    const reading = readLegs([trail, stop, train, stop, trail], how);
    expect(reading.question).toBe('vehicle');
    expect(Math.abs(leftOutS(reading, 'vehicle') - 1170)).toBeLessThanOrEqual(30);
    expect(Math.abs(reading.movingS - 1830)).toBeLessThanOrEqual(40);
  });

  it('is asked about for a car, with the streets at both ends of the motorway', () => {
    const streets: Leg = { seconds: 300, mps: (s) => (s % 60 < 15 ? 0 : 12), turn: switchbacks(60) };
    const reading = readLegs(
      [trail, { seconds: 300, mps: 0 }, streets, { seconds: 600, mps: 30 }, streets, stop, trail],
      how,
    );
    expect(reading.question).toBe('vehicle');
    expect(Math.abs(reading.movingS - 1800)).toBeLessThanOrEqual(40);
  });

  it('is not asked about for a fast road descent', () => {
    const descent: Leg = { seconds: 300, mps: (s) => 16 + 8 * Math.sin(s / 30), upMps: -1.5 };
    expect(readLegs([trail, descent, trail], how).question).toBeNull();
  });
});

describe('a counter that catches up', () => {
  it('is not taken for a vehicle', () => {
    const recording = recordingOf(journey([trail, trail]));
    const { distM, lat, lon } = recording.samples;
    lat.fill(Number.NaN);
    lon.fill(Number.NaN);
    distM.fill(distM[600]!, 600, 900);
    expect(readingOf(recording).question).toBeNull();
  });
});
