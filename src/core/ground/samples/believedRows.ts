import { DAY_MS } from '../../../units.js';
import { CLOCK_SET_MS } from './clock.js';
import type { NoteCounter } from './notes.js';
import type { Recording } from './recording.js';
import { longestRising } from './timeOrder.js';

const FAR_OFF_MS = 366 * DAY_MS;

/**
 * Returns the rows to keep so that time never runs backward: as many as possible, so that one wrong stamp costs one
 * row and not all that follow it. Where no row has a time all are kept, and somebody has to be asked. Of a damaged file
 * a single row is not enough to trust.
 */
export function believedRows(
  timeMs: Float64Array,
  order: Int32Array,
  damage: Recording['damage'],
  notes: NoteCounter,
): Int32Array {
  const rows = rowsInTimeOrder(timeMs, order, damage !== null, notes);
  return damage !== null && rows.length < 2 ? rows.subarray(0, 0) : rows;
}

function rowsInTimeOrder(
  timeMs: Float64Array,
  all: Int32Array,
  damaged: boolean,
  notes: NoteCounter,
): Int32Array {
  if (!damaged && isPlain(all, timeMs)) return all;
  const timed = all.filter((row) => !Number.isNaN(timeMs[row]!));
  if (timed.length === 0) return all;
  notes.add('time-missing', all.length - timed.length);
  const set = timed.filter((row) => timeMs[row]! >= CLOCK_SET_MS);
  const believed = set.length > 0 ? set : timed;
  notes.add('time-unset', timed.length - believed.length);
  const ordered = inOrder(believed, timeMs);
  notes.add('time-backward', believed.length - ordered.length);
  if (!damaged) return ordered;
  const together = largestBlock(ordered, timeMs);
  notes.add('time-far-off', ordered.length - together.length);
  return together;
}

/** Nearly every file is in order; seeing it in one pass spares the copies that the rest of the way makes. */
function isPlain(rows: Int32Array, timeMs: Float64Array): boolean {
  let last = CLOCK_SET_MS;
  for (let i = 0; i < rows.length; i += 1) {
    const time = timeMs[rows[i]!]!;
    if (!(time >= last)) return false;
    last = time;
  }
  return true;
}

function inOrder(rows: Int32Array, timeMs: Float64Array): Int32Array {
  const run = longestRising(
    Float64Array.from(rows, (row) => timeMs[row]!),
    'never-falling',
  );
  return run.length === rows.length ? rows : run.map((i) => rows[i]!);
}

/** A flipped bit can move a stamp by decades; what stands alone across more than a year is not this ride. */
function largestBlock(rows: Int32Array, timeMs: Float64Array): Int32Array {
  let best = rows.subarray(0, 0);
  let from = 0;
  for (let i = 1; i <= rows.length; i += 1) {
    if (i < rows.length && timeMs[rows[i]!]! - timeMs[rows[i - 1]!]! <= FAR_OFF_MS) continue;
    if (i - from > best.length) best = rows.subarray(from, i);
    from = i;
  }
  return best;
}
