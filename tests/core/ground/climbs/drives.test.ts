import { describe, expect, it } from 'vitest';
import { journey, type Leg, recordingOf } from '../../../fixtures/journey.js';
import { leftOutS, readingOf, readLegs, switchbacks, uneven } from '../../../fixtures/readJourney.js';

const trail: Leg = { seconds: 900, mps: uneven(5), turn: switchbacks(60) };
const stop: Leg = { seconds: 90, mps: 0 };

describe.each([
  ['a device', {}],
  ['positions alone', { format: 'gpx' }],
  ['a receiver that jitters', { format: 'gpx', jitterM: 2, eleJitterM: 2 }],
] as const)('a vehicle, from %s', (_, how) => {
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

  it('is never a way down, however fast', () => {
    const descent: Leg = { seconds: 600, mps: (s) => 16 + 8 * Math.sin(s / 30), upMps: -1.5 };
    const straightDown: Leg = { seconds: 60, mps: 26, upMps: -2 };
    const reading = readLegs([trail, descent, straightDown, descent, trail], how);
    expect(reading.question).toBeNull();
    expect(leftOutS(reading, 'vehicle')).toBe(0);
    expect(Math.abs(reading.movingS - 3060)).toBeLessThanOrEqual(20);
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
