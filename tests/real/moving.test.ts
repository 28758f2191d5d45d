import { describe, expect } from 'vitest';
import { seededRandom } from '../../src/core/chance/seededRandom.js';
import { MOVING } from '../../src/core/ground/moving/moving.js';
import { surveyOf } from '../../src/core/ground/moving/survey.js';
import { readRecording } from '../../src/core/ground/readRecording.js';
import { type Plane, planeOf } from '../../src/core/ground/samples/ellipsoid.js';
import type { Reading } from '../../src/core/ground/samples/reading.js';
import type { Recording } from '../../src/core/ground/samples/recording.js';
import { sampleOrder } from '../../src/core/ground/samples/sampleOrder.js';
import { keepSamples } from '../../src/core/ground/samples/steps.js';
import { sameTrack, sketchOf } from '../../src/core/ground/sketch.js';
import { readContent } from '../../src/files/readFile.js';
import { instant } from '../../src/units.js';
import {
  itWithRecordings,
  type ManifestEntry,
  manifestEntries,
  recordingBytes,
} from '../fixtures/recordings.js';

/** What the manifest's independent decoders say beside: seconds of steps of up to 10 s whose end speed is 0.5 m/s or more. */
interface Entry extends ManifestEntry {
  readonly movingS_speedGE0_5?: number;
  readonly haversineM?: number | null;
}
const now = instant(Date.UTC(2026, 11, 31));
const entries = manifestEntries() as readonly Entry[];
const find = (pattern: RegExp, tag?: string): Entry[] =>
  entries.filter(({ file, tags }) => pattern.test(file) && (tag === undefined || tags.includes(tag)));
const outdoorFit = find(/^rides\/.*\.fit$/).filter(({ tags }) => !tags.includes('indoor-or-virtual'));

function recordingsOf(file: string): readonly Recording[] {
  const content = readContent(recordingBytes(file), file);
  return 'recordings' in content ? content.recordings : [];
}
function readingOf(recording: Recording): Reading {
  const outcome = readRecording(recording, { now });
  if ('problem' in outcome) throw new Error(outcome.problem.message);
  return outcome.readings[0]!;
}
const only = (file: string): Recording => {
  const [recording, ...others] = recordingsOf(file);
  expect(others, file).toEqual([]);
  return recording!;
};
const apart = (a: number, b: number): number => Math.abs(a / b - 1);

/** Moving seconds over steps of up to 10 s. */
function shortStepsS(recording: Recording): number {
  const { kept } = keepSamples(recording, sampleOrder(recording, { earliestMs: 0, latestMs: now }));
  const { states } = surveyOf(kept, false);
  let ms = 0;
  for (let i = 1; i < kept.count; i++) {
    const step = kept.timeMs[i]! - kept.timeMs[i - 1]!;
    if (states[i] === MOVING && step <= 10_000) ms += step;
  }
  return ms / 1000;
}

describe('outdoor rides from FIT', () => {
  itWithRecordings(
    'move as long as an independent decoder says, within 3 %, over steps of up to 10 s',
    () => {
      expect(outdoorFit.length).toBeGreaterThanOrEqual(24);
      for (const { file, movingS_speedGE0_5 } of outdoorFit)
        expect(apart(shortStepsS(only(file)), movingS_speedGE0_5!), file).toBeLessThan(0.03);
    },
  );

  itWithRecordings('move so long over all steps too, but for two sparse recordings', () => {
    // They are mostly steps of 10 to 60 s, which the independent figure leaves out.
    const sparse = new Set(['rides/bike-02.fit', 'rides/bike-06.fit']);
    for (const { file, movingS_speedGE0_5 } of outdoorFit) {
      const { movingS } = readingOf(only(file));
      if (sparse.has(file)) expect(movingS, file).toBeGreaterThan(movingS_speedGE0_5! * 1.05);
      else expect(apart(movingS, movingS_speedGE0_5!), file).toBeLessThan(0.03);
    }
  });

  itWithRecordings('go as far as the last distance says, within 1 %', () => {
    for (const { file, lastDistance } of outdoorFit)
      expect(apart(readingOf(only(file)).distanceM, lastDistance!), file).toBeLessThan(0.01);
  });

  itWithRecordings('lose nothing to lifts or vehicles', () => {
    for (const { file } of [...outdoorFit, ...find(/^rides\/.*\.gpx$/)])
      for (const recording of recordingsOf(file)) {
        const { leftOut, doubtful } = readingOf(recording);
        expect(
          leftOut.filter(({ code }) => code !== 'gap'),
          file,
        ).toEqual([]);
        expect(doubtful, file).toBeNull();
      }
  });

  itWithRecordings('would count without their sport being said', () => {
    for (const { file } of outdoorFit)
      expect(readingOf({ ...only(file), sport: null, subSport: null }).question, file).toBeNull();
  });

  itWithRecordings('move within 2 % as long by their positions alone', () => {
    // Of bike-06 the device's speed at the end of 7 s says less than the positions at both ends: 3 %.
    for (const { file } of outdoorFit.filter(({ haversineM }) => haversineM! > 5000)) {
      const recording = only(file);
      const none = new Float64Array(recording.samples.count).fill(Number.NaN);
      const samples = { ...recording.samples, distM: none, speedMps: none };
      const byPositions = readingOf({ ...recording, format: 'gpx', samples });
      const limit = file === 'rides/bike-06.fit' ? 0.035 : 0.02;
      expect(apart(byPositions.movingS, readingOf(recording).movingS), file).toBeLessThan(limit);
    }
  });
});

describe('other recordings', () => {
  itWithRecordings('indoors move by speed where there is one, else by the timer', () => {
    const movingS = (file: string) => readingOf(only(file)).movingS;
    // No speed was recorded in the first, and its distance stands at 0; its timer says 3158.9 s.
    expect(Math.abs(movingS('rides/indoor-05.fit') - 3158.9)).toBeLessThan(3);
    for (const n of [3, 4, 6, 7, 8, 9]) {
      const file = `rides/indoor-0${n}.fit`;
      const entry = find(new RegExp(file))[0]!;
      expect(apart(movingS(file), entry.movingS_speedGE0_5!), file).toBeLessThan(0.03);
    }
  });

  itWithRecordings('of a multi-sport file count only where they cycle', () => {
    for (const [file, timerS] of [
      ['not-rides/multisport-02.fit', 3211],
      ['not-rides/multisport-03.fit', 4422],
    ] as const) {
      const outcomes = recordingsOf(file).map((recording) => readRecording(recording, { now }));
      const ridden = outcomes.flatMap((one) => ('problem' in one ? [] : one.readings));
      expect(ridden, file).toHaveLength(1);
      expect(apart(ridden[0]!.movingS, timerS), file).toBeLessThan(0.02);
      for (const one of outcomes) if ('problem' in one) expect(one.problem.code).toBe('other-sport');
    }
  });

  itWithRecordings('from GPX go as far as their points do, within 1 %', () => {
    const explained: Record<string, string> = {
      'tracks/track-02.gpx': '23 km in 5 s: jumps',
      'tracks/track-04.gpx': 'two tracks, of which one has a single time and one a gap of 5 h',
      'tracks/track-11.gpx': '1.6 km in 2 s: jumps',
      'tracks/track-18.gpx': 'runs backward in time, 195 km apart',
      'tracks/track-21.gpx': 'points without a time among others with one',
    };
    const timed = find(/\.gpx$/).filter(
      ({ file, withTime, nPts, haversineM }) =>
        /^(rides|tracks)/.test(file) && withTime! > 1 && nPts! > 1 && haversineM! > 0,
    );
    expect(timed.length).toBeGreaterThan(14);
    for (const { file, haversineM } of timed) {
      if (file in explained) continue;
      const way = recordingsOf(file)
        .map((recording) => readingOf({ ...recording, sport: 'cycling', subSport: null }).distanceM)
        .reduce((sum, metres) => sum + metres, 0);
      // Tenths of a metre are kept, which is more than 1 % of the shortest.
      expect(Math.abs(way - haversineM!), file).toBeLessThan(0.01 * haversineM! + 0.1);
    }
  });
});

interface Sketched {
  readonly file: string;
  readonly plane: Plane;
  readonly sketch: number[];
}
const sketched = (files: readonly Entry[]): Sketched[] =>
  files.flatMap(({ file }) =>
    recordingsOf(file).flatMap(({ samples }) => {
      const plane = planeOf(samples.lat, samples.lon);
      const sketch = sketchOf(plane);
      return sketch ? [{ file, plane, sketch }] : [];
    }),
  );

describe('sketches of real ways', () => {
  itWithRecordings('match only where the way is the same', () => {
    const ways = sketched(find(/^(rides|not-rides)\/.*\.(fit|gpx)$|^tracks\/track-25/));
    expect(ways.length).toBeGreaterThan(40);
    // One rider's road on three days; and one invented way that many programs ship as their sample, in one and four segments.
    const sameRoad = /road-0[125]\.fit/;
    const sample = /bike-0[2-8]\.gpx|track-25\.gpx/;
    ways.forEach((a, i) => {
      for (const b of ways.slice(i + 1)) {
        const same = [sameRoad, sample].some((way) => way.test(a.file) && way.test(b.file));
        expect(sameTrack(a.sketch, b.sketch), `${a.file} and ${b.file}`).toBe(same);
      }
    });
  });

  itWithRecordings('survive other sampling and noise of 3 to 5 m', () => {
    const random = seededRandom('real ways');
    const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
    const perturbed = ({ eastM, northM }: Plane, every: number, noiseM: number): Plane => {
      const pick = (column: Float64Array) =>
        column.filter((_, i) => i % every === 0).map((value) => value + noiseM * normal());
      return { eastM: pick(eastM), northM: pick(northM) };
    };
    // Recorded about each second, so that each tenth sample is still a recording.
    const dense = outdoorFit.filter(({ file, records }) => records! > 2500 && file !== 'rides/bike-12.fit');
    const ways = sketched(dense);
    expect(ways.length).toBeGreaterThan(14);
    for (const { file, plane, sketch } of ways)
      for (const [every, noiseM] of [
        [5, 0],
        [10, 0],
        [1, 3],
        [1, 5],
        [5, 5],
      ] as const) {
        const other = sketchOf(perturbed(plane, every, noiseM));
        expect(other !== null && sameTrack(sketch, other), `${file} ${every} s ${noiseM} m`).toBe(true);
      }
  });

  itWithRecordings('are others in the other direction, but on roads ridden there and back', () => {
    const thereAndBack = /road-0[1-6]\.fit|bike-13\.fit/;
    const rides = outdoorFit.filter(({ file, haversineM }) => haversineM! > 900 && !thereAndBack.test(file));
    for (const { file, plane, sketch } of sketched(rides)) {
      const back = sketchOf({ eastM: plane.eastM.toReversed(), northM: plane.northM.toReversed() });
      expect(back !== null && sameTrack(sketch, back), file).toBe(false);
    }
  });
});
