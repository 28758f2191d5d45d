import { describe, expect, it } from 'vitest';
import { recordingsByTrack, type Track } from '../../../../src/core/ground/samples/byTrack.js';
import { NoteCounter } from '../../../../src/core/ground/samples/notes.js';
import { madeSamples } from './madeSamples.js';

const T = Date.UTC(2024, 4, 1, 9);
const HOUR = 3_600_000;
const track = (type: string, ...segments: [from: number, to: number][]): Track => ({
  type,
  sport: 'cycling',
  subSport: null,
  segments: segments.map(([from, to]) => ({ from, to })),
});
const cut = (times: readonly number[], tracks: readonly Track[], lats: Record<number, number> = {}) =>
  recordingsByTrack(
    madeSamples(times.map((ms, i) => ({ timeMs: T + ms, ...(i in lats && { lat: lats[i]! }) }))),
    tracks,
    { format: 'gpx', damage: null },
    new NoteCounter(),
  );

describe('recordingsByTrack', () => {
  it('joins what follows within an hour under the same type, and nothing else', () => {
    const two = [track('ride', [0, 2]), track('ride', [2, 4])];
    expect(cut([0, 1000, HOUR, HOUR + 1000], two).map((one) => one.notes)).toEqual([
      [{ code: 'tracks-joined', count: 1 }],
    ]);
    expect(cut([0, 1000, 2 * HOUR, 2 * HOUR + 1000], two)).toHaveLength(2);
    expect(cut([0, 1000, 2000, 3000], [track('ride', [0, 2]), track('walk', [2, 4])])).toHaveLength(2);
  });

  it('puts segments in time order, and counts spans in the rows that are left', () => {
    const [one] = cut([5000, 6000, 0, 1000, 2000, 500], [track('ride', [0, 2], [2, 6])]);
    expect([...one!.samples.timeMs]).toEqual([T, T + 1000, T + 2000, T + 5000, T + 6000]);
    expect(one!.spans).toEqual([
      { from: 0, to: 3 },
      { from: 3, to: 5 },
    ]);
    expect(one!.notes).toEqual([
      { code: 'spans-reordered', count: 1 },
      { code: 'time-backward', count: 1 },
    ]);
  });

  it('leaves out a point that stands nowhere on earth, and a segment of such points', () => {
    const tracks = [track('ride', [0, 2], [2, 3], [3, 5])];
    const [one] = cut([0, 1000, 2000, 3000, 4000], tracks, { 1: 91, 2: -95 });
    expect([...one!.samples.timeMs]).toEqual([T, T + 3000, T + 4000]);
    expect(one!.spans).toEqual([
      { from: 0, to: 1 },
      { from: 1, to: 3 },
    ]);
    expect(one!.notes).toEqual([{ code: 'position-out-of-range', count: 2 }]);
  });

  it('is nothing where nothing is left', () => {
    expect(cut([0], [track('ride', [0, 1])], { 0: 91 })).toEqual([]);
    expect(cut([], [track('ride')])).toEqual([]);
  });
});
