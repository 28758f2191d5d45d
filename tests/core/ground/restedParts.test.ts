import { describe, expect, it } from 'vitest';
import { surveyOf } from '../../../src/core/ground/moving/survey.js';
import { readRecording } from '../../../src/core/ground/readRecording.js';
import { partsBetweenRests } from '../../../src/core/ground/restedParts.js';
import type { Reading } from '../../../src/core/ground/samples/reading.js';
import type { Recording } from '../../../src/core/ground/samples/recording.js';
import { sampleOrder } from '../../../src/core/ground/samples/sampleOrder.js';
import { keepSamples } from '../../../src/core/ground/samples/steps.js';
import { journey, type Leg, recordingOf, START_MS } from '../../fixtures/journey.js';
import { NOW, switchbacks, uneven } from '../../fixtures/readJourney.js';

const HOUR = 3_600_000;
const DAY = 24 * HOUR;
const ride = (seconds: number): Leg => ({ seconds, mps: uneven(5), turn: switchbacks(70) });
const rest = (seconds: number): Leg => ({ seconds, mps: 0 });

/** Samples from the given one on, so much later. */
function later(recording: Recording, from: number, ms: number): Recording {
  const timeMs = recording.samples.timeMs.map((time, i) => (i >= from ? time + ms : time));
  return { ...recording, samples: { ...recording.samples, timeMs } };
}

function readingsOf(recording: Recording): readonly Reading[] {
  const outcome = readRecording(recording, { now: NOW });
  if ('problem' in outcome) throw new Error(outcome.problem.code);
  return outcome.readings;
}
const shown = (readings: readonly Reading[]) =>
  readings.map(({ start, movingS, question }) => [
    Math.round((start! - START_MS) / 60_000),
    movingS,
    question,
  ]);

describe('a recording is cut where nobody rode', () => {
  it('for four hours, and not for less', () => {
    const made = (hours: number) =>
      later(recordingOf(journey([ride(600), rest(300), ride(600)])), 800, hours * HOUR);
    expect(shown(readingsOf(made(4)))).toEqual([
      [0, 600, null],
      [253, 600, null],
    ]);
    expect(readingsOf(made(3.8))).toHaveLength(1);
  });

  it('into rides that end where they ended, however long the recorder went on', () => {
    const on = recordingOf(journey([ride(600), rest(6 * 3600)]));
    const [only, ...others] = readingsOf(on);
    expect([others.length, only!.movingS]).toEqual([0, 600]);
    expect(only!.end! - START_MS).toBeLessThanOrEqual(900_000);
    const before = recordingOf(journey([rest(6 * 3600), ride(600)]));
    expect(shown(readingsOf(before))).toEqual([[6 * 60 - 5, 600, null]]);
  });

  it('and each part keeps its own samples, spans and way', () => {
    const readings = readingsOf(later(recordingOf(journey([ride(600), ride(900)])), 601, 2 * DAY));
    expect(readings.map((one) => one.samples)).toEqual([601, 900]);
    expect(readings.map((one) => one.spans)).toEqual([1, 1]);
    expect(readings[1]!.distanceM).toBeGreaterThan(readings[0]!.distanceM);
  });

  it('but not where there are no times', () => {
    const recording = recordingOf(journey([ride(600)]));
    const timeMs = recording.samples.timeMs.map(() => Number.NaN);
    const { kept } = keepSamples(
      { ...recording, samples: { ...recording.samples, timeMs } },
      sampleOrder(
        { ...recording, samples: { ...recording.samples, timeMs } },
        { earliestMs: 0, latestMs: NOW },
      ),
    );
    expect(partsBetweenRests(surveyOf(kept, false))).toHaveLength(1);
  });
});

describe('the clock of a recording is where most of it lies', () => {
  it('a few points of another year are dropped and noted', () => {
    const recording = recordingOf(journey([ride(1200)]));
    const timeMs = recording.samples.timeMs.map((time, i) => (i < 5 ? time - 18 * 365 * DAY : time));
    const [only, ...others] = readingsOf({ ...recording, samples: { ...recording.samples, timeMs } });
    expect([others.length, only!.movingS]).toEqual([0, 1195]);
    expect(only!.notes).toContainEqual({ code: 'time-far-off', count: 5 });
  });

  it('a longer piece that a clock jumped away from, rolling on, is asked for its time', () => {
    const recording = recordingOf(journey([ride(1500)]));
    const timeMs = recording.samples.timeMs.map((time, i) => (i < 600 ? time - 18 * 365 * DAY : time));
    const readings = readingsOf({ ...recording, samples: { ...recording.samples, timeMs } });
    expect(readings.map((one) => [one.movingS, one.question])).toEqual([
      [599, 'clock-unset'],
      [900, null],
    ]);
  });
});

describe('what does not move is no ride, and what is too sparse to tell is asked about', () => {
  const every = (seconds: number, mps: number, count: number): Recording => {
    const all = journey([{ seconds: seconds * count, mps }]);
    return recordingOf(
      all.filter(({ s }) => s % seconds === 0),
      { format: 'gpx' },
    );
  };
  it('a point each 6 hours over seven years', () => {
    const recording = every(60, 5, 100);
    const timeMs = recording.samples.timeMs.map((_, i) => START_MS - 7 * 365 * DAY + i * 6 * HOUR);
    const outcome = readRecording({ ...recording, samples: { ...recording.samples, timeMs } }, { now: NOW });
    expect(outcome).toMatchObject({ outcome: 'no-ride', problem: { code: 'no-moving' } });
  });

  it('a point each 90 s', () => {
    expect(shown(readingsOf(every(90, 5, 40)))).toEqual([[0, 3600, 'too-sparse']]);
  });

  it('a point each 10 minutes', () => {
    expect(shown(readingsOf(every(600, 5, 12)))).toEqual([[0, 0, 'too-sparse']]);
  });
});
