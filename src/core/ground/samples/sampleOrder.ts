import type { Note, Recording } from './recording.js';
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

/** The times of a clock that was set. Units: milliseconds since 1970. */
export interface ClockBounds {
  readonly earliestMs: number;
  readonly latestMs: number;
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
  const run = longestRising(orderKeys(recording.samples.timeMs, timed));
  const samples = run.map((k) => timed.samples[k]!);
  const spans = run.map((k) => timed.spans[k]!);
  const notes = [
    { code: 'time-missing', count: times.all - times.timed },
    { code: 'clock-wrong', count: times.timed - timed.samples.length },
    { code: 'time-backward', count: timed.samples.length - run.length },
  ].filter(({ count }) => count > 0);
  return { samples, spans, untimed: false, firstMs: recording.samples.timeMs[samples[0]!]!, notes };
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
  spans.forEach(({ from, to }, span) => {
    for (let i = from; i < to; i++) {
      if (!isKept(samples.timeMs[i]!)) continue;
      picked.samples[next] = i;
      picked.spans[next++] = span;
    }
  });
  return picked;
}

/** Two spans may meet in one moment, so a later span counts as a fraction of a millisecond later. */
function orderKeys(timeMs: Float64Array, { samples, spans }: Picked): Float64Array {
  const keys = new Float64Array(samples.length);
  const base = timeMs[samples[0]!]!;
  for (let k = 0; k < keys.length; k++) keys[k] = timeMs[samples[k]!]! - base + spans[k]! / 65_536;
  return keys;
}
