/** What becomes of real rides that come twice: in another clock, in pieces, sampled anew, in the other format, with noise. */
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { seededRandom } from '../../../src/core/chance/seededRandom.js';
import { readRecording } from '../../../src/core/ground/readRecording.js';
import { lengthOf, type Stretch, unionOf } from '../../../src/core/ground/samples/intervals.js';
import type { Reading } from '../../../src/core/ground/samples/reading.js';
import type { Recording, Samples, Span } from '../../../src/core/ground/samples/recording.js';
import { DEFAULT_WEIGHTS } from '../../../src/core/ledger/weight.js';
import { isCounted, type Part } from '../../../src/core/rides/ride.js';
import { settleRides } from '../../../src/core/rides/settle.js';
import { readContent } from '../../../src/files/readFile.js';
import { instant } from '../../../src/units.js';
import { knowledge, partOf } from '../../fixtures/readings.js';
import { textTable } from './textTable.js';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const NOW = instant(Date.UTC(2030, 0, 1));
const mark = (text: string): string => createHash('sha256').update(text).digest('base64');
/** Shorter rides say little of anything. Units: seconds. */
const SHORTEST_S = 60;
/** Under these every clock of the world can be; the last but one is no zone's. Units: minutes. */
const SHIFTS = [0.5, -0.5, 10, -10, 60, -60, 120, -120, 330, -330, 840, -585];

type Change = (recording: Recording) => Recording;
/** A second coming: the recordings, and by how much their clocks are off. */
interface Coming {
  readonly recordings: readonly Recording[];
  readonly shiftMs: number;
}

const shifted =
  (ms: number): Change =>
  (one) => ({ ...one, samples: { ...one.samples, timeMs: one.samples.timeMs.map((time) => time + ms) } });

/** The samples inside spans that are kept, in their spans. */
function only(recording: Recording, isKept: (i: number) => boolean): Recording {
  const rows: number[] = [];
  const spans: Span[] = [];
  for (const { from, to } of recording.spans) {
    const first = rows.length;
    for (let i = from; i < to; i++) if (isKept(i)) rows.push(i);
    if (rows.length > first) spans.push({ from: first, to: rows.length });
  }
  const pick = (column: Float64Array) => Float64Array.from(rows, (i) => column[i]!);
  const { timeMs, lat, lon, eleM, distM, speedMps } = recording.samples;
  const samples: Samples = {
    ...{ count: rows.length, timeMs: pick(timeMs), lat: pick(lat), lon: pick(lon) },
    ...{ eleM: pick(eleM), distM: pick(distM), speedMps: pick(speedMps) },
  };
  const { unstarted: _, ...rest } = recording;
  return { ...rest, samples, spans };
}

/** From how much of its time to how much. */
function between(from: number, to: number): Change {
  return (one) => {
    const { timeMs } = one.samples;
    const [a, b] = [timeMs[one.spans[0]!.from]!, timeMs[one.spans.at(-1)!.to - 1]!];
    return only(one, (i) => (timeMs[i]! - a) / (b - a) >= from && (timeMs[i]! - a) / (b - a) < to);
  };
}

const everyFifth: Change = (one) => only(one, (i) => i % 5 === 0);
const middleOut: Change = (one) => {
  const { timeMs } = one.samples;
  const [a, b] = [timeMs[one.spans[0]!.from]!, timeMs[one.spans.at(-1)!.to - 1]!];
  return only(one, (i) => Math.abs((timeMs[i]! - a) / (b - a) - 0.5) > 0.1);
};
/** As a program writes it that knows nothing but places and times. */
const asGpx: Change = (one) => {
  const placed = only(one, (i) => !Number.isNaN(one.samples.lat[i]!));
  const none = placed.samples.timeMs.map(() => Number.NaN);
  const claims = { elapsedS: null, timerS: null, distanceM: null };
  return {
    ...{ ...placed, format: 'gpx' as const, sensors: [], claims },
    samples: { ...placed.samples, distM: none, speedMps: none },
  };
};
const ofAnotherYear: Change = (one) => {
  const first = one.spans[0]!.from;
  const timeMs = one.samples.timeMs.map((time, i) =>
    i >= first && i < first + 5 ? time - 7 * 365 * 24 * HOUR : time,
  );
  return { ...one, samples: { ...one.samples, timeMs } };
};
/** Three metres to each side. */
const noisy: Change = (one) => {
  const random = seededRandom('noise in place');
  const error = (metresPerDegree: number) => ((random() - 0.5) * 6) / metresPerDegree;
  const lat = one.samples.lat.map((value) => value + error(111_000));
  const lon = one.samples.lon.map((value) => value + error(80_000));
  return { ...one, samples: { ...one.samples, lat, lon } };
};

const once =
  (change: Change, shiftMs = 0) =>
  (one: Recording): Coming => ({ recordings: [shifted(shiftMs)(change(one))], shiftMs });
const halves =
  (shiftMs: number) =>
  (one: Recording): Coming => ({
    recordings: [between(0, 0.5), between(0.5, 2)].map((half) => shifted(shiftMs)(half(one))),
    shiftMs,
  });
const plain: Change = (one) => one;

/** Where another clock is all that differs. */
export const CLOCKS: ReadonlyMap<string, (one: Recording) => Coming> = new Map(
  SHIFTS.map((minutes) => [`${minutes} min off`, once(plain, minutes * MINUTE)]),
);
export const COMINGS: ReadonlyMap<string, (one: Recording) => Coming> = new Map([
  ...CLOCKS,
  ['first half', once(between(0, 0.5))],
  ['second half', once(between(0.5, 2))],
  ['both halves', halves(0)],
  ['both halves, 1 h off', halves(HOUR)],
  ['every fifth point', once(everyFifth)],
  ['every fifth point, 1 h off', once(everyFifth, HOUR)],
  ['without its middle', once(middleOut)],
  ['in the other format', once(asGpx)],
  ['in the other format, 1 h off', once(asGpx, HOUR)],
  ['in the other format, −2 h off', once(asGpx, -2 * HOUR)],
  ['five points of another year', once(ofAnotherYear)],
  ['noise in place', once(noisy)],
  ['noise in the other format', once((one) => noisy(asGpx(one)))],
  ['noise in the other format, 1 h off', once((one) => noisy(asGpx(one)), HOUR)],
]);

export type Verdict = 'exact' | 'asked' | 'wrong';
export interface Judged {
  readonly file: string;
  readonly coming: string;
  readonly verdict: Verdict;
  /** Units: seconds. */
  readonly counted: number;
  readonly expected: number;
}

const read = (recording: Recording): readonly Reading[] => {
  const outcome = readRecording(recording, { now: NOW, mark });
  return 'problem' in outcome ? [] : outcome.readings;
};
const partsOf = (readings: readonly Reading[]): Part[] =>
  readings.map((reading) => ({ ...partOf(reading), ...(reading.marks && { marks: reading.marks }) }));
const at = ({ start, moving }: Reading, byMs: number): Stretch[] =>
  moving.map(([from, to]) => [start! + from + byMs, start! + to + byMs]);

/** Returns what is counted of a ride and its second coming, held against the union of both under the true clock. */
function judged(
  file: string,
  coming: string,
  original: readonly Reading[],
  { recordings, shiftMs }: Coming,
): Judged {
  const copies = recordings.flatMap(read);
  const rides = settleRides(partsOf([...original, ...copies]), knowledge(), DEFAULT_WEIGHTS);
  const counted = rides.filter(isCounted).reduce((sum, ride) => sum + ride.movingS, 0);
  const all = [...original.flatMap((one) => at(one, 0)), ...copies.flatMap((one) => at(one, -shiftMs))];
  const expected = lengthOf(unionOf(all)) / 1000;
  const isExact = Math.abs(counted - expected) <= Math.max(0.01 * expected, 5);
  const isAsked = rides.some((ride) => ride.question !== null);
  return { file, coming, counted, expected, verdict: isAsked ? 'asked' : isExact ? 'exact' : 'wrong' };
}

/** Returns every real ride that counts, with each second coming. */
export function judgeAll(folder: string): Judged[] {
  const found: Judged[] = [];
  for (const below of ['rides', 'tracks'])
    for (const name of readdirSync(join(folder, below)).sort()) {
      const content = readContent(readFileSync(join(folder, below, name)), name);
      if ('problem' in content) continue;
      for (const recording of content.recordings) {
        const original = read(recording);
        const counts = original.every((one) => one.question === null && !one.indoor && one.start !== null);
        if (!counts || original.reduce((sum, one) => sum + one.movingS, 0) < SHORTEST_S) continue;
        const isPlaced = recording.samples.lat.some((value) => !Number.isNaN(value));
        for (const [coming, make] of COMINGS)
          if (isPlaced || !coming.includes('format'))
            found.push(judged(name, coming, original, make(recording)));
      }
    }
  return found;
}

export const shareOf = (all: readonly Judged[], verdict: Verdict): number =>
  all.filter((one) => one.verdict === verdict).length / all.length;

export const joinEvidence = async (): Promise<string> => {
  const all = judgeAll(process.env.STANCHION_RECORDINGS ?? '');
  const percent = (share: number): string => `${(100 * share).toFixed(0)} %`;
  const rows = [...COMINGS.keys()].map((coming) => {
    const of = all.filter((one) => one.coming === coming);
    return [
      coming,
      String(of.length),
      ...(['exact', 'asked', 'wrong'] as const).map((verdict) => percent(shareOf(of, verdict))),
    ];
  });
  const title = 'Real rides that come twice: counted as the union under the true clock, within 1 %';
  return `${title}\n\n${textTable([['the second time', 'rides', 'exact', 'asked', 'wrong'], ...rows])}`;
};
