import { seededRandom } from '../../../src/core/chance/seededRandom.js';
import type { Recording, Samples } from '../../../src/core/ground/samples/recording.js';
import { gaussian } from './iso8608.js';
import { keeping } from './rideSet.js';

export type Perturbation = (recording: Recording) => Recording;

const withElevation = (
  recording: Recording,
  change: (z: number, i: number, samples: Samples) => number,
): Recording => {
  const { samples } = recording;
  return {
    ...recording,
    samples: { ...samples, eleM: samples.eleM.map((z, i) => (Number.isNaN(z) ? z : change(z, i, samples))) },
  };
};

/** Keeps a sample no sooner than so many seconds after the one before. */
export const sampledEvery =
  (s: number): Perturbation =>
  (recording) => {
    const { timeMs } = recording.samples;
    let last = Number.NEGATIVE_INFINITY;
    const kept = timeMs.map((ms) => {
      if (ms - last < s * 1000) return 0;
      last = ms;
      return 1;
    });
    return keeping(recording, (i) => kept[i] === 1);
  };

export const dropped =
  (share: number, seed: string): Perturbation =>
  (recording) => {
    const random = seededRandom(seed);
    const kept = recording.samples.timeMs.map(() => (random() < share ? 0 : 1));
    return keeping(recording, (i) => kept[i] === 1);
  };

export const inSteps =
  (stepM: number): Perturbation =>
  (recording) =>
    withElevation(recording, (z) => Math.round(z / stepM) * stepM);

/** White noise, or noise that remembers for so many seconds (first order, its spread the same). */
export const noisy =
  (spreadM: number, memoryS: number, seed: string): Perturbation =>
  (recording) => {
    const next = gaussian(seededRandom(seed));
    let error = spreadM * next();
    let lastMs = Number.NaN;
    return withElevation(recording, (z, i, { timeMs }) => {
      const dt = Number.isNaN(lastMs) ? 0 : Math.max(0, timeMs[i]! - lastMs) / 1000;
      lastMs = timeMs[i]!;
      const stay = memoryS === 0 ? 0 : Math.exp(-dt / memoryS);
      error = stay * error + spreadM * Math.sqrt(1 - stay ** 2) * next();
      return z + error;
    });
  };

/** The same noise after a recorder has smoothed it over 5 s and rounded the sum to 0.2 m. */
export const smoothedNoise =
  (spreadM: number, memoryS: number, seed: string): Perturbation =>
  (recording) => {
    const rough = noisy(spreadM, memoryS, seed)(recording).samples.eleM;
    let error = Number.NaN;
    let lastMs = Number.NaN;
    return withElevation(recording, (z, i, { timeMs }) => {
      const here = rough[i]! - z;
      const stay = Number.isNaN(error) ? 0 : Math.exp(-Math.max(0, timeMs[i]! - lastMs) / 5000);
      error = stay === 0 ? here : stay * error + (1 - stay) * here;
      lastMs = timeMs[i]!;
      return Math.round((z + error) * 5) / 5;
    });
  };

/** What is done to rides to see how far their weight moves. */
export const PERTURBATIONS: readonly (readonly [name: string, Perturbation])[] = [
  ['as recorded', (recording) => recording],
  ['5 s sampling', sampledEvery(5)],
  ['10 s sampling', sampledEvery(10)],
  ['30 % of points dropped', dropped(0.3, 'dropped')],
  ['0.5 m steps', inSteps(0.5)],
  ['1 m steps', inSteps(1)],
  ...[0.5, 1, 2].flatMap((m) =>
    [0, 10, 20, 60].map(
      (s) => [`${m} m noise, ${s === 0 ? 'white' : `${s} s memory`}`, noisy(m, s, `${m}/${s}`)] as const,
    ),
  ),
  ...[
    [1, 20],
    [2, 20],
    [2, 60],
  ].map(
    ([m, s]) =>
      [`${m} m, ${s} s, smoothed by the device`, smoothedNoise(m!, s!, `smooth ${m}/${s}`)] as const,
  ),
];
