import { HOUR_MS } from '../../../units.js';
import { believedRows } from './believedRows.js';
import { NoteCounter } from './notes.js';
import { dropImpossible } from './possible.js';
import type { Recording, Samples, Span } from './recording.js';
import { pickSamples } from './rows.js';

/** Exporters write laps or each pause as a track of its own; what follows within an hour is the same outing. */
const SAME_OUTING_MS = HOUR_MS;

/** A track as it was written: what it is called to be, and its segments in the order of the file. */
export interface Track extends Pick<Recording, 'sport' | 'subSport'> {
  readonly type: string;
  readonly segments: readonly Span[];
}

/**
 * Returns a recording for each track; tracks that follow each other closely are one.
 * `decoded` are the points as they were written. One that stands nowhere on earth is no point of a track.
 */
export function recordingsByTrack(
  decoded: Samples,
  tracks: readonly Track[],
  said: Pick<Recording, 'format' | 'damage'>,
  notes: NoteCounter,
): Recording[] {
  dropImpossible(decoded, notes);
  const placed = withoutPlaceless(decoded, tracks);
  const joined = outings(placed.tracks, placed.samples.timeMs, notes);
  return joined.flatMap((track) => recordingOf(track, placed.samples, said, notes) ?? []);
}

interface PlacedTracks {
  readonly samples: Samples;
  readonly tracks: readonly Track[];
}

function withoutPlaceless(samples: Samples, tracks: readonly Track[]): PlacedTracks {
  const rows = new Int32Array(samples.count);
  let size = 0;
  const before = new Int32Array(samples.count + 1);
  for (let row = 0; row < samples.count; row += 1) {
    // A recorder without reception may still count the way.
    if (!Number.isNaN(samples.lat[row]!) || !Number.isNaN(samples.distM[row]!)) rows[size++] = row;
    before[row + 1] = size;
  }
  const segmentsOf = (track: Track): Span[] =>
    track.segments
      .map(({ from, to }) => ({ from: before[from]!, to: before[to]! }))
      .filter(({ from, to }) => to > from);
  return {
    samples: pickSamples(samples, rows.subarray(0, size)),
    tracks: tracks.map((track) => ({ ...track, segments: segmentsOf(track) })),
  };
}

function outings(tracks: readonly Track[], timeMs: Float64Array, notes: NoteCounter): Track[] {
  const joined: Track[] = [];
  for (const track of tracks) {
    if (track.segments.length === 0) continue;
    const last = joined.at(-1);
    if (last !== undefined && follows(last, track, timeMs)) {
      joined[joined.length - 1] = { ...last, segments: [...last.segments, ...track.segments] };
      notes.add('tracks-joined');
    } else {
      joined.push(track);
    }
  }
  return joined;
}

function follows(before: Track, after: Track, timeMs: Float64Array): boolean {
  const end = timeMs[before.segments.at(-1)!.to - 1]!;
  const start = timeMs[after.segments[0]!.from]!;
  // Without times the comparison is false.
  return before.type === after.type && start >= end && start - end <= SAME_OUTING_MS;
}

function recordingOf(
  { sport, subSport, segments: written }: Track,
  samples: Samples,
  said: Pick<Recording, 'format' | 'damage'>,
  fileNotes: NoteCounter,
): Recording | null {
  const notes = new NoteCounter(fileNotes.list());
  const segments = inTimeOrder(written, samples.timeMs, notes);
  const order = new Int32Array(segments.reduce((sum, { from, to }) => sum + to - from, 0));
  let size = 0;
  for (const { from, to } of segments) for (let row = from; row < to; row += 1) order[size++] = row;
  const rows = believedRows(samples.timeMs, order, said.damage, notes);
  if (rows.length === 0) return null;
  return {
    ...said,
    sport,
    subSport,
    samples: pickSamples(samples, rows),
    spans: spansOf(rows, segments),
    sensors: [],
    claims: { elapsedS: null, timerS: null, distanceM: null },
    notes: notes.list(),
  };
}

/** Some programs write the newest segment first. */
function inTimeOrder(segments: readonly Span[], timeMs: Float64Array, notes: NoteCounter): readonly Span[] {
  const starts = new Map(segments.map((segment) => [segment, firstTime(segment, timeMs)]));
  const sorted = [...segments].sort((a, b) => starts.get(a)! - starts.get(b)!);
  if (sorted.every((segment, i) => segment === segments[i])) return segments;
  notes.add('spans-reordered');
  return sorted;
}

/** A segment without times stays after those that have them. */
function firstTime({ from, to }: Span, timeMs: Float64Array): number {
  for (let row = from; row < to; row += 1) if (!Number.isNaN(timeMs[row]!)) return timeMs[row]!;
  return Number.MAX_VALUE;
}

/** The segments again, counted in the rows that were kept; a segment of which nothing was kept is gone. */
function spansOf(rows: Int32Array, segments: readonly Span[]): Span[] {
  const spans: Span[] = [];
  let from = 0;
  for (const segment of segments) {
    let to = from;
    while (to < rows.length && rows[to]! >= segment.from && rows[to]! < segment.to) to += 1;
    if (to > from) spans.push({ from, to });
    from = to;
  }
  return spans;
}
