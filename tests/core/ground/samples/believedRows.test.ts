import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { believedRows } from '../../../../src/core/ground/samples/believedRows.js';
import { NoteCounter } from '../../../../src/core/ground/samples/notes.js';
import { allRows } from '../../../../src/core/ground/samples/rows.js';

const T = Date.UTC(2024, 4, 1, 9);
const DAY = 86_400_000;

const keep = (times: readonly number[], damaged = false) => {
  const notes = new NoteCounter();
  return {
    rows: [
      ...believedRows(Float64Array.from(times), allRows(times.length), damaged ? 'checksum' : null, notes),
    ],
    notes: notes.list(),
  };
};

describe('believedRows', () => {
  it('keeps everything in order, equal times too', () => {
    expect(keep([T, T, T + 1000])).toEqual({ rows: [0, 1, 2], notes: [] });
  });

  it('drops one stamp that runs ahead, not all that follow it', () => {
    const kept = keep([T, T + 1000, T + 9_000_000, T + 2000, T + 3000]);
    expect(kept.rows).toEqual([0, 1, 3, 4]);
    expect(kept.notes).toEqual([{ code: 'time-backward', count: 1 }]);
  });

  it('drops rows without a time and those from before the clock was set', () => {
    const kept = keep([Date.UTC(1989, 11, 31), Date.UTC(2000, 0, 1), Number.NaN, T, T + 1000]);
    expect(kept.rows).toEqual([3, 4]);
    expect(kept.notes).toEqual([
      { code: 'time-missing', count: 1 },
      { code: 'time-unset', count: 2 },
    ]);
  });

  it('keeps a ride whose clock was never set, and one without any time', () => {
    expect(keep([Date.UTC(1990, 0, 1), Date.UTC(1990, 0, 1, 1)]).rows).toEqual([0, 1]);
    expect(keep([Number.NaN, Number.NaN])).toEqual({ rows: [0, 1], notes: [] });
  });

  it('of a damaged file leaves out what stands years away', () => {
    const times = [T, T + 1000, T + 3000 * DAY];
    expect(keep(times).rows).toEqual([0, 1, 2]);
    expect(keep(times, true)).toEqual({ rows: [0, 1], notes: [{ code: 'time-far-off', count: 1 }] });
  });

  it('believes no single row of a damaged file', () => {
    expect(keep([T]).rows).toEqual([0]);
    expect(keep([T], true).rows).toEqual([]);
  });

  it('never decreases, and keeps as many as any subsequence that does not', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 12 }), { maxLength: 10 }), (steps) => {
        const times = steps.map((step) => T + step * 1000);
        const { rows } = keep(times);
        expect(rows.every((row, i) => i === 0 || times[row]! >= times[rows[i - 1]!]!)).toBe(true);
        expect(rows.length).toBe(longestByTrial(times));
      }),
    );
  });
});

function longestByTrial(times: readonly number[]): number {
  let best = 0;
  for (let mask = 0; mask < 1 << times.length; mask += 1) {
    const picked = times.filter((_, i) => (mask >> i) & 1);
    if (picked.every((time, i) => i === 0 || time >= picked[i - 1]!)) best = Math.max(best, picked.length);
  }
  return best;
}
