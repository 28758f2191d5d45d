import { describe, expect, it } from 'vitest';
import { readRecording } from '../../../../src/core/ground/readRecording.js';
import type { Recording } from '../../../../src/core/ground/samples/recording.js';
import { journey, type Leg, recordingOf, START_MS } from '../../../fixtures/journey.js';
import { leftOutS, NOW, readingOf, readLegs, switchbacks, uneven } from '../../../fixtures/readJourney.js';

const ride = (seconds: number, mps = 5): Leg => ({ seconds, mps, turn: switchbacks(70) });
const rest = (seconds: number): Leg => ({ seconds, mps: 0 });

/** Every nth sample only, and always the last. */
function thinned(recording: Recording, keep: (i: number) => boolean): Recording {
  const { samples } = recording;
  const kept = Array.from({ length: samples.count }, (_, i) => i).filter(
    (i) => keep(i) || i === samples.count - 1,
  );
  const pick = (column: Float64Array) => Float64Array.from(kept, (i) => column[i]!);
  return {
    ...recording,
    samples: {
      count: kept.length,
      timeMs: pick(samples.timeMs),
      lat: pick(samples.lat),
      lon: pick(samples.lon),
      eleM: pick(samples.eleM),
      distM: pick(samples.distM),
      speedMps: pick(samples.speedMps),
    },
    spans: [{ from: 0, to: kept.length }],
  };
}

describe('a resting receiver', () => {
  it.each([1, 2, 3])('that jitters by %i m each second adds nothing in half an hour', (jitterM) => {
    const recording = recordingOf(journey([rest(1800)]), { format: 'gpx', jitterM, seed: `rest ${jitterM}` });
    expect(readRecording(recording, { now: NOW })).toMatchObject({ problem: { code: 'no-moving' } });
  });

  it.each([1, 2, 3])('that jitters by %i m between two stretches adds no more than its edges', (jitterM) => {
    const reading = readLegs([ride(600), rest(600), ride(600)], { format: 'gpx', jitterM });
    expect(Math.abs(reading.movingS - 1200)).toBeLessThanOrEqual(12);
  });

  it('adds nothing by a speed that trembles around a few decimetres', () => {
    const trembling = { seconds: 600, mps: (s: number) => 0.3 + 0.15 * Math.sin(s) };
    expect(readLegs([ride(600), trembling]).movingS).toBe(600);
  });
});

describe('a walk beside the bicycle', () => {
  it('counts within 5 % by positions that wander as fast as it goes', () => {
    const push: Leg = { seconds: 600, mps: 0.8, turn: (s) => 4 * Math.sin(s / 20) };
    const places = journey([ride(300), push, ride(300)]).map((place) => ({
      ...place,
      eastM: place.eastM + 1.5 * Math.sin(place.s / 4) + 2 * Math.sin(place.s / 9),
      northM: place.northM + 1.5 * Math.sin(place.s / 3.7) + 2 * Math.sin(place.s / 8),
    }));
    const reading = readingOf(recordingOf(places, { format: 'gpx' }));
    expect(Math.abs(reading.movingS - 1200)).toBeLessThanOrEqual(60);
  });

  it('leaves a halt of six seconds inside a ride a halt', () => {
    const legs = Array.from({ length: 20 }, () => [ride(60), rest(6)]).flat();
    const reading = readLegs(legs, { format: 'gpx', jitterM: 0.3 });
    expect(reading.movingS).toBeLessThanOrEqual(20 * 62);
  });
});

describe('moving time', () => {
  it.each(['fit', 'gpx'] as const)('counts what moved and no halt, from %s', (format) => {
    const legs = [ride(300), rest(45), ride(300, 1.2), rest(200), ride(300, 9)];
    expect(Math.abs(readLegs(legs, { format }).movingS - 900)).toBeLessThanOrEqual(3);
  });

  it.each([0, 1, 3])(
    'sees small circles with positions alone, which come back to their place, jitter %i m',
    (jitterM) => {
      const circles = [{ seconds: 1200, mps: 3, turn: 17 }];
      expect(readLegs(circles, { format: 'gpx', jitterM }).movingS).toBeGreaterThan(1190);
    },
  );

  it('sees hairpins with positions alone', () => {
    const climb = [{ seconds: 1200, mps: uneven(2.8), upMps: 0.3, turn: switchbacks(45) }];
    expect(readLegs(climb, { format: 'gpx' }).movingS).toBeGreaterThanOrEqual(1198);
  });

  it.each(['fit', 'gpx'] as const)(
    'counts steps of up to a minute by their mean speed, from %s',
    (format) => {
      const recording = recordingOf(journey([ride(1200), rest(600), ride(600)]), { format });
      const sparse = thinned(recording, (i) => i % 50 === 0);
      expect(Math.abs(readingOf(sparse).movingS - 1800)).toBeLessThanOrEqual(50);
    },
  );

  it('counts steps of up to five minutes from 2 m/s, and longer ones never', () => {
    const gap = (s: number, mps: number) => {
      const recording = recordingOf(journey([ride(300), ride(s, mps), ride(300)]));
      return readingOf(thinned(recording, (i) => i <= 300 || i >= 300 + s));
    };
    expect(gap(200, 5).movingS).toBe(800);
    expect(gap(200, 1.5).movingS).toBe(600);
    expect(leftOutS(gap(200, 1.5), 'gap')).toBe(200);
    expect(gap(400, 5).movingS).toBe(600);
    expect(leftOutS(gap(400, 5), 'gap')).toBe(400);
    expect(leftOutS(gap(200, 0), 'gap')).toBe(0);
  });

  it('counts nothing across a stop of the recorder', () => {
    const recording = recordingOf(journey([ride(300), ride(100), ride(300)]), {
      spans: [
        { from: 0, to: 301 },
        { from: 400, to: 701 },
      ],
    });
    const reading = readingOf(recording);
    expect(reading.movingS).toBe(600);
    expect(reading.elapsedS).toBe(700);
    expect(reading.moving).toEqual([
      [0, 300_000],
      [400_000, 700_000],
    ]);
  });

  it('makes two rides of two days in one recording, and counts not the night between', () => {
    const places = journey([ride(600), ride(600)]);
    const recording = recordingOf(places);
    for (let i = 601; i < places.length; i++) recording.samples.timeMs[i]! += 20 * 3_600_000;
    const outcome = readRecording(recording, { now: NOW });
    const rides = 'readings' in outcome ? outcome.readings : [];
    expect(rides.map((one) => [one.movingS, one.start! - START_MS])).toEqual([
      [600, 0],
      [599, 20 * 3_600_000 + 601_000],
    ]);
    expect(rides.map((one) => leftOutS(one, 'gap'))).toEqual([0, 0]);
  });

  it('drops what a clock that jumped back says twice', () => {
    const recording = recordingOf(journey([ride(900)]));
    for (let i = 600; i <= 900; i++) recording.samples.timeMs[i]! -= 120_000;
    const reading = readingOf(recording);
    expect(reading.movingS).toBe(780);
    expect(reading.notes).toContainEqual({ code: 'time-backward', count: 120 });
  });

  it('goes by distance where the device says no speed', () => {
    const recording = recordingOf(journey([ride(300), rest(100), ride(300)]));
    recording.samples.speedMps.fill(Number.NaN);
    expect(Math.abs(readingOf(recording).movingS - 600)).toBeLessThanOrEqual(2);
  });
});
