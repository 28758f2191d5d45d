import { DAY_MS, MINUTE_MS } from '../../../units.js';
import type { ClockBounds } from './clock.js';
import { notesOf } from './notes.js';
import type { Note, Recording } from './recording.js';
import { allRows } from './rows.js';
import { longestRising } from './timeOrder.js';

/** Which samples to keep, in rising time. Shape: `samples` indexes into the recording, `spans` the span of each. */
export interface SampleOrder {
  readonly samples: Int32Array;
  readonly spans: Int32Array;
  /** No sample has a time, or all have the same: they stand in the order of the file. */
  readonly untimed: boolean;
  /** The first time as read; NaN where there is none. */
  readonly firstMs: number;
  readonly notes: readonly Note[];
}

/**
 * Returns the samples inside spans in rising time, as many as can be had.
 * A recorder that found its satellites late has a wrong clock for the first samples only, and those are dropped; where
 * most times lie outside the bounds, all are kept as read.
 */
export function sampleOrder(recording: Recording, bounds: ClockBounds): SampleOrder {
  const times = surveyTimes(recording, bounds);
  if (times.timed === 0 || (times.timed > 1 && times.lowestMs === times.highestMs)) {
    const all = pick(recording, times.all, () => true);
    const firstMs = times.timed === 0 ? Number.NaN : times.lowestMs;
    return { ...all, untimed: true, firstMs, notes: [] };
  }
  const onlySet = times.inside * 2 > times.timed;
  const isKept = (ms: number) => (onlySet ? isInside(ms, bounds) : !Number.isNaN(ms));
  const timed = pick(recording, onlySet ? times.inside : times.timed, isKept);
  const { timeMs } = recording.samples;
  const rising = isRising(timeMs, timed)
    ? allRows(timed.samples.length)
    : longestRising(orderKeys(timeMs, timed));
  const run = withoutStrays(rising, recording.samples.timeMs, timed.samples);
  const isAll = run.length === timed.samples.length;
  const samples = isAll ? timed.samples : run.map((k) => timed.samples[k]!);
  const spans = isAll ? timed.spans : run.map((k) => timed.spans[k]!);
  const notes = notesOf({
    'time-missing': times.all - times.timed,
    'clock-wrong': times.timed - timed.samples.length,
    'time-backward': timed.samples.length - rising.length,
    'time-far-off': rising.length - run.length,
  });
  return { samples, spans, untimed: false, firstMs: recording.samples.timeMs[samples[0]!]!, notes };
}

/** A few points this far from all others are a fault of the clock and no ride of their own. */
const STRAY_MS = DAY_MS;
const LONGEST_STRAY_MS = MINUTE_MS;
const STRAY_SHARE = 0.1;

/** The clock of a recording is where most of it lies. */
function withoutStrays(run: Int32Array, timeMs: Float64Array, samples: Int32Array): Int32Array {
  const timeAt = (k: number): number => timeMs[samples[k]!]!;
  const clusters: [from: number, to: number][] = [];
  let from = 0;
  let before = timeAt(run[0]!);
  for (let i = 1; i <= run.length; i++) {
    const now = i < run.length ? timeMs[samples[run[i]!]!]! : Number.POSITIVE_INFINITY;
    if (!(now - before < STRAY_MS)) {
      clusters.push([from, i]);
      from = i;
    }
    before = now;
  }
  if (clusters.length < 2) return run;
  const most = Math.max(...clusters.map(([a, b]) => b - a));
  const kept = clusters.filter(
    ([a, b]) => b - a >= STRAY_SHARE * most || timeAt(run[b - 1]!) - timeAt(run[a]!) > LONGEST_STRAY_MS,
  );
  if (kept.length === clusters.length) return run;
  return Int32Array.from(kept.flatMap(([a, b]) => [...run.subarray(a, b)]));
}

const isInside = (ms: number, { earliestMs, latestMs }: ClockBounds): boolean =>
  ms >= earliestMs && ms <= latestMs;

function surveyTimes({ samples, spans }: Recording, bounds: ClockBounds) {
  let all = 0;
  let timed = 0;
  let inside = 0;
  let lowestMs = Number.POSITIVE_INFINITY;
  let highestMs = Number.NEGATIVE_INFINITY;
  for (const { from, to } of spans) {
    all += to - from;
    for (let i = from; i < to; i++) {
      const ms = samples.timeMs[i]!;
      if (Number.isNaN(ms)) continue;
      timed += 1;
      if (isInside(ms, bounds)) inside += 1;
      if (ms < lowestMs) lowestMs = ms;
      if (ms > highestMs) highestMs = ms;
    }
  }
  return { all, timed, inside, lowestMs, highestMs };
}

interface Picked {
  readonly samples: Int32Array;
  readonly spans: Int32Array;
}

function pick({ samples, spans }: Recording, size: number, isKept: (ms: number) => boolean): Picked {
  const picked = { samples: new Int32Array(size), spans: new Int32Array(size) };
  let next = 0;
  const { timeMs } = samples;
  for (const [span, { from, to }] of spans.entries())
    for (let i = from; i < to; i++) {
      if (!isKept(timeMs[i]!)) continue;
      picked.samples[next] = i;
      picked.spans[next++] = span;
    }
  return picked;
}

/** Nearly every file is in order; seeing it spares the keys. Shape: spans in rising order. */
function isRising(timeMs: Float64Array, { samples, spans }: Picked): boolean {
  for (let k = 1; k < samples.length; k++) {
    const step = timeMs[samples[k]!]! - timeMs[samples[k - 1]!]!;
    if (!(step > 0 || (step === 0 && spans[k]! > spans[k - 1]!))) return false;
  }
  return true;
}

/** Two spans may meet in one moment, so a later span counts as a fraction of a millisecond later. */
function orderKeys(timeMs: Float64Array, { samples, spans }: Picked): Float64Array {
  const keys = new Float64Array(samples.length);
  const base = timeMs[samples[0]!]!;
  for (let k = 0; k < keys.length; k++) keys[k] = timeMs[samples[k]!]! - base + spans[k]! / 65_536;
  return keys;
}
