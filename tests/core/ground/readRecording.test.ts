import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readRecording } from '../../../src/core/ground/readRecording.js';
import type { Recording } from '../../../src/core/ground/samples/recording.js';
import { instant } from '../../../src/units.js';
import { journey, type Leg, type RecordedHow, recordingOf, START_MS } from '../../fixtures/journey.js';
import { NOW, readingOf, readLegs, switchbacks, uneven } from '../../fixtures/readJourney.js';

const trail: Leg = {
  seconds: 1200,
  mps: uneven(5),
  upMps: (s) => 0.2 * Math.sin(s / 60),
  turn: switchbacks(60),
};
const recorded = (how: RecordedHow = {}, legs: readonly Leg[] = [trail]): Recording =>
  recordingOf(journey(legs), how);
const refusal = (recording: Recording) => {
  const outcome = readRecording(recording, { now: NOW });
  return 'problem' in outcome ? [outcome.outcome, outcome.problem.code] : 'a reading';
};

describe('a reading', () => {
  it('says what the recording said', () => {
    const reading = readingOf(recorded({ subSport: 'mountain' }));
    expect(reading).toMatchObject({
      readerVersion: 6,
      format: 'fit',
      start: START_MS,
      end: START_MS + 1_200_000,
      sport: 'cycling',
      subSport: 'mountain',
      indoor: false,
      damage: null,
      elapsedS: 1200,
      movingS: 1200,
      moving: [[0, 1_200_000]],
      doubtful: null,
      leftOut: [],
      spans: 1,
      samples: 1201,
      notes: [],
      question: null,
    });
    expect(reading.distanceM).toBeCloseTo(journey([trail]).at(-1)!.distM, 0);
    expect(reading.terrain.classS).toHaveLength(16);
    expect(Math.abs(reading.terrain.classS.reduce((sum, s) => sum + s, 0) - 1200)).toBeLessThanOrEqual(1);
    expect(reading.profile.length).toBeLessThanOrEqual(600);
    expect(reading.sketch).not.toBeNull();
  });

  it('holds no position anywhere', () => {
    const text = JSON.stringify(readingOf(recorded()));
    const { lat, lon } = recorded().samples;
    for (const degrees of [lat[0]!, lat[600]!, lon[0]!, lon[600]!])
      expect(text).not.toContain(degrees.toFixed(4));
  });

  it('adds the moving time up as its intervals do, whatever was recorded', () => {
    const legs = fc.array(
      fc.record({
        seconds: fc.integer({ min: 5, max: 400 }),
        mps: fc.constantFrom(0, 0.3, 0.8, 3, 8, 27),
        upMps: fc.constantFrom(-1, 0, 0.6),
      }),
      { minLength: 1, maxLength: 6 },
    );
    fc.assert(
      fc.property(
        legs,
        fc.constantFrom('fit' as const, 'gpx' as const),
        fc.integer({ min: 0, max: 3 }),
        (parts, format, jitterM) => {
          const outcome = readRecording(recordingOf(journey(parts), { format, jitterM }), { now: NOW });
          if ('problem' in outcome) {
            expect(outcome.problem.code).toBe('no-moving');
            return;
          }
          const reading = outcome.readings[0]!;
          const total = reading.moving.reduce((sum, [from, to]) => sum + to - from, 0);
          expect(reading.movingS).toBe(Math.round(total / 1000));
          expect(
            reading.moving.every(([from, to], i, all) => from < to && (i === 0 || all[i - 1]![1] < from)),
          ).toBe(true);
          const left = reading.leftOut.reduce((sum, { s }) => sum + s, 0);
          expect(reading.movingS + left).toBeLessThanOrEqual(reading.elapsedS + 2);
          expect(reading.distanceM).toBeGreaterThanOrEqual(0);
        },
      ),
      { seed: 5, numRuns: 60 },
    );
  });

  it('of less than three seconds is none, and says so', () => {
    const read = (s: number) =>
      readRecording(recordingOf(journey([{ seconds: s, mps: 6, upMps: 0 }])), { now: NOW });
    expect(read(2)).toMatchObject({
      outcome: 'no-ride',
      problem: { code: 'no-moving', message: expect.stringContaining('three seconds') },
    });
    expect(read(40)).toHaveProperty('readings');
  });

  it('whose points carry one time is set aside with that reason, not as one that stood still', () => {
    const whole = recordingOf(journey([{ seconds: 400, mps: 8, upMps: 0 }]), { format: 'gpx' });
    const timeMs = whole.samples.timeMs.map((time, i) => (i === 0 ? time - 1000 : whole.samples.timeMs[1]!));
    const stuck = { ...whole, samples: { ...whole.samples, timeMs } };
    expect(readRecording(stuck, { now: NOW })).toMatchObject({
      outcome: 'set-aside',
      problem: { code: 'unreadable', message: expect.stringContaining('carry one time') },
    });
  });

  it('of both formats agrees', () => {
    const fit = readingOf(recorded());
    const gpx = readingOf(recorded({ format: 'gpx' }));
    expect(Math.abs(gpx.movingS / fit.movingS - 1)).toBeLessThan(0.01);
    expect(Math.abs(gpx.distanceM / fit.distanceM - 1)).toBeLessThan(0.01);
  });

  it('climbs without the lifts', () => {
    const lift: Leg = { seconds: 480, mps: 3, upMps: 0.8, turnAround: 90 };
    const { ascentM, descentM } = readLegs([
      { seconds: 600, mps: uneven(6), upMps: -0.6, turn: switchbacks(50) },
      lift,
    ]);
    expect(ascentM).toBeLessThan(10);
    expect(Math.abs(descentM! - 360)).toBeLessThan(10);
  });

  it('knows no climb and no quality without elevation', () => {
    const recording = recorded();
    recording.samples.eleM.fill(Number.NaN);
    const reading = readingOf(recording);
    expect(reading).toMatchObject({ ascentM: null, descentM: null });
    expect(reading.terrain.quality).toBeNull();
  });

  it('does not take one constant for elevation', () => {
    const recording = recorded();
    recording.samples.eleM.fill(0);
    const reading = readingOf(recording);
    expect(reading.terrain.quality).toBeNull();
    expect(reading.notes).toContainEqual({ code: 'elevation-flat', count: 1 });
  });
});

describe('indoors', () => {
  it('counts by speed where there is one', () => {
    const reading = readingOf(recorded({ subSport: 'indoor_cycling' }, [trail, { seconds: 300, mps: 0 }]));
    expect(reading).toMatchObject({ indoor: true, movingS: 1200 });
  });

  it.each([0, Number.NaN])('counts by the timer where distance and speed say %f', (nothing) => {
    const recording = recorded({ subSport: 'spin' });
    for (const column of [recording.samples.lat, recording.samples.lon]) column.fill(Number.NaN);
    recording.samples.distM.fill(nothing);
    recording.samples.speedMps.fill(Number.NaN);
    expect(readingOf(recording)).toMatchObject({ indoor: true, movingS: 1200, distanceM: 0 });
  });

  it('asks about no vehicle and no lift on a virtual mountain', () => {
    const virtual: Leg = { seconds: 900, mps: 26, upMps: 0.7 };
    expect(readingOf(recorded({ subSport: 'virtual_activity' }, [virtual]))).toMatchObject({
      question: null,
      leftOut: [],
      movingS: 900,
    });
  });
});

describe('no ride', () => {
  it('is another sport', () => {
    expect(refusal(recorded({ sport: 'running' }))).toEqual(['no-ride', 'other-sport']);
    // Left as it is only beside sessions whose sport is named.
    expect(refusal(recorded({ sport: 'generic' }))).toEqual(['no-ride', 'other-sport']);
  });

  it('is a single point, or none', () => {
    expect(refusal(recorded({ spans: [{ from: 0, to: 1 }] }))).toEqual(['no-ride', 'no-track']);
    expect(refusal(recorded({ spans: [] }))).toEqual(['no-ride', 'no-track']);
  });

  it('is a recording without place, distance or speed', () => {
    const recording = recorded();
    const { lat, lon, distM, speedMps } = recording.samples;
    for (const column of [lat, lon, distM, speedMps]) column.fill(Number.NaN);
    expect(refusal(recording)).toEqual(['no-ride', 'no-track']);
  });

  it('is set aside when a damaged file left only a point', () => {
    const recording = { ...recorded({ spans: [{ from: 0, to: 1 }] }), damage: 'cut-off' as const };
    expect(refusal(recording)).toEqual(['set-aside', 'unreadable']);
  });

  it('is set aside when no sample can be relied on', () => {
    const recording = recorded();
    recording.samples.timeMs.reverse();
    expect(refusal(recording)).toEqual(['set-aside', 'unreadable']);
  });
});

describe('a question', () => {
  it('is asked without times, with distance and profile', () => {
    const recording = recorded({ format: 'gpx', sport: null });
    recording.samples.timeMs.fill(Number.NaN);
    const reading = readingOf(recording);
    expect(reading).toMatchObject({ question: 'no-times', start: null, end: null, movingS: 0, moving: [] });
    expect(reading.distanceM).toBeGreaterThan(5000);
    expect(reading.profile.length).toBeGreaterThan(100);
    expect(reading.sketch).not.toBeNull();
  });

  it.each([
    ['clock-unset', Date.UTC(1989, 11, 31)],
    ['clock-unset', Date.UTC(2000, 0, 1)],
    ['clock-future', NOW + 2 * 86_400_000],
  ] as const)('is asked for %s, with the date as read and the hours', (question, startMs) => {
    expect(readingOf(recorded({ startMs }))).toMatchObject({ question, start: startMs, movingS: 1200 });
  });

  it('is asked where all points carry one unset time', () => {
    const recording = recorded({ format: 'gpx' });
    recording.samples.timeMs.fill(Date.UTC(1990, 0, 1));
    expect(readingOf(recording)).toMatchObject({
      question: 'clock-unset',
      start: Date.UTC(1990, 0, 1),
      elapsedS: 0,
      movingS: 0,
    });
  });

  it('is not asked for local time that was written as UTC', () => {
    const recording = recorded({ startMs: START_MS + 14 * 3_600_000 });
    const outcome = readRecording(recording, { now: instant(START_MS + 1_200_000) });
    expect('readings' in outcome && outcome.readings[0]!.question).toBeNull();
  });

  it('is asked where nothing says the sport and the speeds say a walk', () => {
    const walk: Leg = { seconds: 3600, mps: 1.4, turn: switchbacks(200) };
    expect(readLegs([walk], { sport: null, format: 'gpx' }).question).toBe('sport-unclear');
    expect(readLegs([walk], { sport: 'cycling', format: 'gpx' }).question).toBeNull();
    expect(readLegs([trail], { sport: null, format: 'gpx' }).question).toBeNull();
  });

  it('is one about the sport, not about a vehicle, where a file without a sport is all car', () => {
    const car: Leg = { seconds: 1800, mps: 30 };
    expect(readLegs([car], { sport: null, format: 'gpx' }).question).toBe('sport-unclear');
    expect(readLegs([trail, trail, car], { sport: 'cycling', format: 'gpx' }).question).toBe('vehicle');
  });
});
