import type { Recording, Span } from '../../core/ground/samples/recording.js';
import type { FileContent } from '../../ports/reader.js';
import { HOUR_MS } from '../../units.js';
import { ENTITIES_MESSAGE, noRide, setAside } from '../fileContent.js';
import { sportOfType } from './gpxSport.js';
import { type GpxTrack, GpxTrackReader, type Stopped, type Stretch } from './gpxTrackReader.js';
import { NoteCounter } from '../../core/ground/samples/notes.js';
import { SampleColumns } from '../sampleColumns.js';
import { rowsInTimeOrder } from '../../core/ground/samples/believedRows.js';
import { isKnownEncoding, xmlChunks, xmlEncodingOf } from './xmlText.js';

/** Exporters write laps or each pause as a track of its own; what follows within an hour is the same outing. */
const SAME_OUTING_MS = HOUR_MS;

const REFUSED: Readonly<Record<Stopped['why'], readonly [code: string, message: string]>> = {
  entities: ['xml-entities', ENTITIES_MESSAGE],
  nested: ['unreadable', 'The file is nested deeper than any ride file. Export it again.'],
  endless: [
    'unreadable',
    'The file holds a value of a million characters, which no ride file does. Export it again.',
  ],
  broken: [
    'unreadable',
    'The file is cut off or its XML is broken before the first track point. Export it again.',
  ],
};

/**
 * Returns the recordings in a GPX file, one a track; tracks that follow each other closely are one recording.
 * Errors: none; what keeps the file from being read is the problem in the answer.
 */
export function readGpx(bytes: Uint8Array, source: string): FileContent {
  const encoding = xmlEncodingOf(bytes);
  if (!isKnownEncoding(encoding)) {
    return setAside(
      'unreadable',
      `The file is in an unknown character encoding, "${encoding}". Export it again.`,
      source,
    );
  }
  const notes = new NoteCounter();
  const columns = new SampleColumns(notes);
  const reader = new GpxTrackReader(columns, notes);
  const stopped = reader.readAll(xmlChunks(bytes, encoding));
  if (stopped !== null && (stopped.why !== 'broken' || columns.count === 0) && !reader.complete) {
    const [code, message] = REFUSED[stopped.why];
    return setAside(code, message, source);
  }
  const damage = stopped === null ? null : reader.complete ? 'checksum' : 'cut-off';
  const tracks = outings(reader.tracks, columns.times(), notes);
  const recordings = tracks.flatMap(
    (track) => recordingOf(track, columns, { damage, creator: reader.creator }, notes) ?? [],
  );
  if (recordings.length > 0) return { recordings };
  return nothingLeft(notes, damage, source);
}

function nothingLeft(notes: NoteCounter, damage: Recording['damage'], source: string): FileContent {
  const dropped = notes.list().some((note) => note.code.startsWith('position-'));
  if (damage !== null || dropped) {
    return setAside('unreadable', 'No track point in the file can be used. Export it again.', source);
  }
  return noRide(
    'no-track',
    'The file holds no track, only routes, places or nothing: it is no recording.',
    source,
  );
}

function outings(tracks: readonly GpxTrack[], timeMs: Float64Array, notes: NoteCounter): GpxTrack[] {
  const joined: GpxTrack[] = [];
  for (const track of tracks) {
    if (track.segments.length === 0) continue;
    const last = joined.at(-1);
    if (last !== undefined && follows(last, track, timeMs)) {
      last.segments.push(...track.segments);
      notes.add('tracks-joined');
    } else {
      joined.push({ type: track.type, segments: [...track.segments] });
    }
  }
  return joined;
}

function follows(before: GpxTrack, after: GpxTrack, timeMs: Float64Array): boolean {
  const end = timeMs[before.segments.at(-1)!.to - 1]!;
  const start = timeMs[after.segments[0]!.from]!;
  // Without times the comparison is false.
  return before.type === after.type && start >= end && start - end <= SAME_OUTING_MS;
}

function recordingOf(
  track: GpxTrack,
  columns: SampleColumns,
  { damage, creator }: { readonly damage: Recording['damage']; readonly creator: string },
  fileNotes: NoteCounter,
): Recording | null {
  const notes = new NoteCounter(fileNotes.list());
  const segments = inTimeOrder(track.segments, columns.times(), notes);
  const order: number[] = [];
  for (const { from, to } of segments) for (let row = from; row < to; row += 1) order.push(row);
  const rows = rowsInTimeOrder(columns.times(), notes, damage !== null, order);
  if (rows.length === 0 || (damage !== null && rows.length < 2)) return null;
  return {
    format: 'gpx',
    ...sportOfType(track.type, creator),
    samples: columns.samples(rows),
    spans: spansOf(rows, segments),
    damage,
    sensors: [],
    claims: { elapsedS: null, timerS: null, distanceM: null },
    notes: notes.list(),
  };
}

/** Some programs write the newest segment first. */
function inTimeOrder(
  segments: readonly Stretch[],
  timeMs: Float64Array,
  notes: NoteCounter,
): readonly Stretch[] {
  const starts = new Map(segments.map((segment) => [segment, firstTime(segment, timeMs)]));
  const sorted = [...segments].sort((a, b) => starts.get(a)! - starts.get(b)!);
  if (sorted.every((segment, i) => segment === segments[i])) return segments;
  notes.add('spans-reordered');
  return sorted;
}

/** A segment without times stays after those that have them. */
function firstTime({ from, to }: Stretch, timeMs: Float64Array): number {
  for (let row = from; row < to; row += 1) if (!Number.isNaN(timeMs[row]!)) return timeMs[row]!;
  return Number.MAX_VALUE;
}

/** The segments again, counted in the rows that were kept; a segment of which nothing was kept is gone. */
function spansOf(rows: readonly number[], segments: readonly Stretch[]): Span[] {
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
