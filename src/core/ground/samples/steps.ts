/** From the samples of a file to those that can be relied on; a step leads from each kept sample to the next. */
import { SECOND_MS } from '../../../units.js';
import { hopM } from './ellipsoid.js';
import { notesOf } from './notes.js';
import { APART, findOutliers, MOVED } from './outliers.js';
import { mayBeThere } from './possible.js';
import type { Note, Recording, Samples } from './recording.js';
import { mapEffort } from './rows.js';
import type { SampleOrder } from './sampleOrder.js';

/**
 * Samples in strictly rising time inside each span, a column each; NaN where a value is missing or was not believed.
 * Step i leads from sample i − 1 to sample i. Units: as in `Samples`.
 */
export interface KeptSamples extends Samples {
  /** 1 where a span begins: no step leads here. */
  readonly begins: Uint8Array;
  /** Metres between the positions of a step; NaN where they do not measure it. */
  readonly hopM: Float64Array;
}

interface ReadSamples extends KeptSamples {
  /** 1 where the receiver found itself elsewhere for good. */
  readonly moved: Uint8Array;
}

/** Faster than this from one position to the next is a jump, unless the step before was half as fast. */
const JUMP_MPS = 40;
/** So much is within the error of a receiver, however short the step. */
const POSITION_ERROR_M = 30;
/** Positions missing for up to this long are put on a straight line. */
const LONGEST_HOLE_MS = 60_000;

/** Returns the samples to rely on, and what was dropped; without times, all of them in the order of the file. */
export function keepSamples(
  recording: Recording,
  order: SampleOrder,
): { readonly kept: KeptSamples; readonly notes: readonly Note[] } {
  const read = columnsOf(recording, order);
  const impossible = dropImpossiblePositions(read);
  const plain = measurePlainHops(read);
  const jumps = plain === 'jumps' ? dropJumps(read) : 0;
  const kept = withoutEmpty(read);
  if (plain !== 'all' || kept !== read) measureHops(kept);
  const notes = notesOf({ 'position-impossible': impossible, 'position-jump': jumps });
  return { kept, notes: [...order.notes, ...notes] };
}

function columnsOf({ samples }: Recording, { samples: chosen, spans, untimed }: SampleOrder): ReadSamples {
  const count = chosen.length;
  const begins = new Uint8Array(count);
  for (let k = 0; k < count; k++) begins[k] = k === 0 || spans[k] !== spans[k - 1] ? 1 : 0;
  const isAll = isEach(chosen, samples.count);
  const pick = (column: Float64Array) => {
    if (isAll) return column.slice();
    const picked = new Float64Array(count);
    for (let k = 0; k < count; k++) {
      const value = column[chosen[k]!]!;
      const from = k === 0 ? -1 : chosen[k - 1]!;
      const isAlone = from === chosen[k]! - 1 || !Number.isNaN(value);
      picked[k] = isAlone ? value : valueAt(column, samples.timeMs, chosen[k]!, from);
    }
    return picked;
  };
  // Positions are changed here; the other columns are as they were read, and where all rows are kept, the same.
  const share = (column: Float64Array) => (isAll ? column : pick(column));
  return {
    count,
    timeMs: untimed ? new Float64Array(count).fill(Number.NaN) : share(samples.timeMs),
    lat: pick(samples.lat),
    lon: pick(samples.lon),
    eleM: share(samples.eleM),
    distM: share(samples.distM),
    speedMps: share(samples.speedMps),
    ...(samples.effort && { effort: mapEffort(samples.effort, share) }),
    begins,
    moved: new Uint8Array(count),
    hopM: new Float64Array(count).fill(Number.NaN),
  };
}

/** Whether these are all rows as they stand. */
function isEach(rows: Int32Array, count: number): boolean {
  if (rows.length !== count) return false;
  for (let i = 0; i < count; i++) if (rows[i] !== i) return false;
  return true;
}

/** Recorders may spread one moment over several rows; what the last one lacks is taken from those before it. */
function valueAt(column: Float64Array, timeMs: Float64Array, sample: number, after: number): number {
  let value = column[sample]!;
  for (let i = sample - 1; i > after && Number.isNaN(value) && timeMs[i] === timeMs[sample]; i--)
    value = column[i]!;
  return value;
}

function dropImpossiblePositions({ count, lat, lon }: ReadSamples): number {
  let dropped = 0;
  for (let i = 0; i < count; i++) {
    if (mayBeThere(lat[i]!, lon[i]!)) continue;
    if (!Number.isNaN(lat[i]!) && !Number.isNaN(lon[i]!)) dropped += 1;
    lat[i] = Number.NaN;
    lon[i] = Number.NaN;
  }
  return dropped;
}

/** Faster than a bike goes, out of slow steps. */
const isTooFast = (mps: number, lastMps: number, metres: number): boolean =>
  mps > Math.max(JUMP_MPS, 2 * lastMps) && metres > POSITION_ERROR_M;

/** Nearly every file is whole and without jumps: then each hop is measured here, once. Else it says what is in the way. */
function measurePlainHops({
  count,
  timeMs,
  lat,
  lon,
  begins,
  hopM: hops,
}: ReadSamples): 'all' | 'holes' | 'jumps' {
  let hasHoles = false;
  let lastMps = 0;
  let last = -1;
  for (let i = 0; i < count; i++) {
    if (begins[i] === 1) last = -1;
    if (Number.isNaN(lat[i]!)) continue;
    if (last >= 0) {
      const metres = hopM(lat[last]!, lon[last]!, lat[i]!, lon[i]!);
      const mps = (metres * SECOND_MS) / (timeMs[i]! - timeMs[last]!);
      if (isTooFast(mps, lastMps, metres)) {
        hops.fill(Number.NaN);
        return 'jumps';
      }
      if (metres > POSITION_ERROR_M) lastMps = mps;
      if (last === i - 1) hops[i] = metres;
      else hasHoles = true;
    }
    last = i;
  }
  return hasHoles ? 'holes' : 'all';
}

/** Drops positions that no bike reaches from the ones before; where the receiver moved for good, a hop is not measured. */
function dropJumps({ count, timeMs, lat, lon, moved, begins }: ReadSamples): number {
  let lastMps = 0;
  const verdicts = findOutliers(begins, lat, (a, b) => {
    const metres = hopM(lat[a]!, lon[a]!, lat[b]!, lon[b]!);
    const mps = (metres * SECOND_MS) / (timeMs[b]! - timeMs[a]!);
    // Without times mps is NaN, and every position is believed.
    const tooFast = isTooFast(mps, lastMps, metres);
    if (!tooFast && metres > POSITION_ERROR_M) lastMps = mps;
    return !tooFast;
  });
  let jumps = 0;
  for (let i = 0; i < count; i++) {
    if (verdicts[i] === APART) {
      lat[i] = Number.NaN;
      lon[i] = Number.NaN;
    }
    if (verdicts[i] === MOVED) moved[i] = 1;
    if (verdicts[i] === APART || verdicts[i] === MOVED) jumps += 1;
  }
  return jumps;
}

/** Rows that say neither where nor how far nor how fast only cut a step in two; indoors there may be no others. */
function withoutEmpty(read: ReadSamples): ReadSamples {
  const { count, lat, distM, speedMps } = read;
  const full = new Int32Array(count);
  let size = 0;
  for (let i = 0; i < count; i++)
    if (!Number.isNaN(lat[i]!) || !Number.isNaN(distM[i]!) || !Number.isNaN(speedMps[i]!)) full[size++] = i;
  if (size === count || size === 0) return read;
  const pick = (column: Float64Array) => {
    const picked = new Float64Array(size);
    for (let k = 0; k < size; k++) picked[k] = column[full[k]!]!;
    return picked;
  };
  // What an empty row marks holds for the next full one.
  const carry = (marks: Uint8Array) => {
    const carried = new Uint8Array(size);
    for (let k = 0, i = 0; k < size; k++) for (; i <= full[k]!; i++) carried[k]! |= marks[i]!;
    return carried;
  };
  return {
    count: size,
    timeMs: pick(read.timeMs),
    lat: pick(lat),
    lon: pick(read.lon),
    eleM: pick(read.eleM),
    distM: pick(distM),
    speedMps: pick(speedMps),
    ...(read.effort && { effort: mapEffort(read.effort, pick) }),
    begins: carry(read.begins),
    moved: carry(read.moved),
    hopM: pick(read.hopM),
  };
}

function measureHops(read: ReadSamples): void {
  let last = -1;
  for (let i = 0; i < read.count; i++) {
    if (read.begins[i] === 1) last = -1;
    if (Number.isNaN(read.lat[i]!)) continue;
    if (last >= 0 && read.moved[i] === 0) spreadHop(read, last, i);
    last = i;
  }
}

function spreadHop({ timeMs, lat, lon, hopM: hops }: ReadSamples, from: number, to: number): void {
  const metres = hopM(lat[from]!, lon[from]!, lat[to]!, lon[to]!);
  const total = timeMs[to]! - timeMs[from]!;
  if (to === from + 1) hops[to] = metres;
  else if (total <= LONGEST_HOLE_MS) {
    for (let i = from + 1; i <= to; i++) hops[i] = (metres * (timeMs[i]! - timeMs[i - 1]!)) / total;
    for (let i = from + 1; i < to; i++) {
      const share = (timeMs[i]! - timeMs[from]!) / total;
      lat[i] = lat[from]! + share * (lat[to]! - lat[from]!);
      lon[i] = lon[from]! + share * (lon[to]! - lon[from]!);
    }
  }
}
