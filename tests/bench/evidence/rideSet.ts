import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { readRecording } from '../../../src/core/ground/readRecording.js';
import type { Reading } from '../../../src/core/ground/samples/reading.js';
import type { Recording } from '../../../src/core/ground/samples/recording.js';
import { DEFAULT_WEIGHTS, priorOf, terrainOf, type WeighedTime } from '../../../src/core/ledger/weight.js';
import { readContent } from '../../../src/files/readFile.js';
import { instant } from '../../../src/units.js';
import { gpxText, textBytes } from '../../fixtures/gpxFile.js';

/** Rides of which somebody said on what ground they were; `rider` tells apart whose they are, as far as is known. */
export interface LabelledRide {
  readonly file: string;
  readonly rider: number;
  readonly ground: 'rough' | 'smooth';
}

/** bike-10.gpx has no label; its way leads off roads. */
export const LABELLED: readonly LabelledRide[] = [
  { file: 'mountain-01.fit', rider: 1, ground: 'rough' },
  { file: 'mountain-02.fit', rider: 2, ground: 'rough' },
  { file: 'bike-10.gpx', rider: 3, ground: 'rough' },
  { file: 'gravel-01.fit', rider: 4, ground: 'smooth' },
  ...[1, 2, 3, 4, 5].map((n) => ({ file: `road-0${n}.fit`, rider: 5, ground: 'smooth' as const })),
  { file: 'road-06.fit', rider: 6, ground: 'smooth' },
  { file: 'road-07.fit', rider: 7, ground: 'smooth' },
  { file: 'road-08.fit', rider: 8, ground: 'smooth' },
];

/** Later than every recording of the folder. */
const NOW = instant(Date.UTC(2030, 0, 1));

/** Returns the only recording of a ride file in the folder. */
export function recordingOf(folder: string, file: string): Recording {
  const content = readContent(readFileSync(join(folder, 'rides', file)), file);
  if ('problem' in content) throw new Error(content.problem.message);
  const [recording, ...others] = content.recordings;
  if (recording === undefined || others.length > 0) throw new Error(`${file} does not hold one recording`);
  return recording;
}

export function readingOf(recording: Recording): Reading {
  const outcome = readRecording(recording, { now: NOW });
  if ('problem' in outcome) throw new Error(outcome.problem.message);
  return outcome.readings[0]!;
}

/** Returns what a reading weighs; without a given prior by the file's own kind of ride. */
export const weighed = (
  { terrain, movingS, subSport }: Reading,
  prior: number = priorOf(subSport, null),
): WeighedTime => terrainOf(terrain, movingS, { prior, weights: DEFAULT_WEIGHTS });

/** Returns whole pieces of so many moving seconds, as if each had been recorded alone. */
export function piecesOf(recording: Recording, movingS: number): Recording[] {
  const { start, moving } = readingOf(recording);
  const cuts: number[] = [];
  let s = 0;
  for (const [fromMs, toMs] of moving) {
    for (; s + (toMs - fromMs) / 1000 >= movingS * (cuts.length + 1); )
      cuts.push(start! + fromMs + (movingS * (cuts.length + 1) - s) * 1000);
    s += (toMs - fromMs) / 1000;
  }
  return cuts.map((toMs, i) => between(recording, i === 0 ? start! : cuts[i - 1]!, toMs));
}

function between(recording: Recording, fromMs: number, toMs: number): Recording {
  const { timeMs } = recording.samples;
  return keeping(recording, (i) => timeMs[i]! >= fromMs && timeMs[i]! <= toMs);
}

/** Returns the recording with only the samples that are kept, its spans moved along. */
export function keeping(recording: Recording, isKept: (i: number) => boolean): Recording {
  const { samples, spans } = recording;
  const before = new Int32Array(samples.count + 1);
  for (let i = 0; i < samples.count; i += 1) before[i + 1] = before[i]! + (isKept(i) ? 1 : 0);
  const pick = (column: Float64Array): Float64Array => column.filter((_, i) => isKept(i));
  return {
    ...recording,
    samples: {
      count: before[samples.count]!,
      timeMs: pick(samples.timeMs),
      lat: pick(samples.lat),
      lon: pick(samples.lon),
      eleM: pick(samples.eleM),
      distM: pick(samples.distM),
      speedMps: pick(samples.speedMps),
      ...(samples.effort && {
        effort: {
          heartBpm: pick(samples.effort.heartBpm),
          cadenceRpm: pick(samples.effort.cadenceRpm),
          powerW: pick(samples.effort.powerW),
        },
      }),
    },
    spans: spans
      .map(({ from, to }) => ({ from: before[from]!, to: before[to]! }))
      .filter(({ from, to }) => to - from > 1),
  };
}

/** Returns the recording as a GPX file would hold it, read back from the text of one. */
export function throughGpx({ samples, spans }: Recording): Recording {
  const segments = spans.map(({ from, to }) =>
    Array.from({ length: to - from }, (_, k) => from + k)
      .filter((i) => !Number.isNaN(samples.lat[i]!) && !Number.isNaN(samples.lon[i]!))
      .map((i) => ({
        lat: samples.lat[i]!.toFixed(7),
        lon: samples.lon[i]!.toFixed(7),
        time: samples.timeMs[i]!,
        ...(Number.isNaN(samples.eleM[i]!) ? {} : { ele: samples.eleM[i]!.toFixed(1) }),
      })),
  );
  const content = readContent(textBytes(gpxText([{ type: 'cycling', segments }])), 'written.gpx');
  if ('problem' in content) throw new Error(content.problem.message);
  return content.recordings[0]!;
}
