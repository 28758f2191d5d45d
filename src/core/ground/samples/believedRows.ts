import { DAY_MS } from '../../../units.js';
import type { NoteCounter } from './notes.js';

/** A clock that was never set starts in 1970, on the last day of 1989 or on the first of 2000. */
export const UNSET_BEFORE_MS = Date.UTC(2001, 0, 1);
const FAR_OFF_MS = 366 * DAY_MS;

/**
 * Returns the rows to keep so that time never runs backward: as many as possible, so that one wrong stamp costs one
 * row and not all that follow it. Where no row has a time all are kept, and somebody has to be asked.
 */
export function rowsInTimeOrder(
  timeMs: Float64Array,
  notes: NoteCounter,
  damaged: boolean,
  order?: readonly number[],
): readonly number[] {
  const all = order ?? Array.from(timeMs.keys());
  if (!damaged && isPlain(all, timeMs)) return all;
  const timed = all.filter((row) => !Number.isNaN(timeMs[row]!));
  if (timed.length === 0) return all;
  notes.add('time-missing', all.length - timed.length);
  const set = timed.filter((row) => timeMs[row]! >= UNSET_BEFORE_MS);
  const believed = set.length > 0 ? set : timed;
  notes.add('time-unset', timed.length - believed.length);
  const ordered = longestOrdered(believed, timeMs);
  notes.add('time-backward', believed.length - ordered.length);
  if (!damaged) return ordered;
  const together = largestBlock(ordered, timeMs);
  notes.add('time-far-off', ordered.length - together.length);
  return together;
}

/** Nearly every file is in order; seeing it in one pass spares the copies that the rest of the way makes. */
function isPlain(rows: readonly number[], timeMs: Float64Array): boolean {
  let last = UNSET_BEFORE_MS;
  for (const row of rows) {
    const time = timeMs[row]!;
    if (!(time >= last)) return false;
    last = time;
  }
  return true;
}

/** The longest subsequence that never decreases, by patience sorting; of equals the one that was there first. */
function longestOrdered(rows: readonly number[], timeMs: Float64Array): readonly number[] {
  if (rows.every((row, i) => i === 0 || timeMs[row]! >= timeMs[rows[i - 1]!]!)) return rows;
  const ends: number[] = [];
  const before = new Int32Array(rows.length);
  rows.forEach((row, i) => {
    const pile = pileFor(timeMs[row]!, ends, rows, timeMs);
    before[i] = pile > 0 ? ends[pile - 1]! : -1;
    ends[pile] = i;
  });
  const kept: number[] = [];
  for (let i = ends[ends.length - 1]!; i >= 0; i = before[i]!) kept.push(rows[i]!);
  return kept.reverse();
}

function pileFor(
  time: number,
  ends: readonly number[],
  rows: readonly number[],
  timeMs: Float64Array,
): number {
  let low = 0;
  let high = ends.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (timeMs[rows[ends[middle]!]!]! <= time) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** A flipped bit can move a stamp by decades; what stands alone across more than a year is not this ride. */
function largestBlock(rows: readonly number[], timeMs: Float64Array): readonly number[] {
  let best: readonly number[] = [];
  let from = 0;
  for (let i = 1; i <= rows.length; i += 1) {
    if (i < rows.length && timeMs[rows[i]!]! - timeMs[rows[i - 1]!]! <= FAR_OFF_MS) continue;
    if (i - from > best.length) best = rows.slice(from, i);
    from = i;
  }
  return best;
}
