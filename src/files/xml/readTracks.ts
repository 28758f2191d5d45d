import { recordingsByTrack, type Track } from '../../core/ground/samples/byTrack.js';
import { NoteCounter } from '../../core/ground/samples/notes.js';
import type { Recording } from '../../core/ground/samples/recording.js';
import type { RideFormat } from '../../core/tokens.js';
import type { FileContent } from '../../ports/reader.js';
import { noRide, setAside } from '../fileContent.js';
import { SampleColumns } from '../sampleColumns.js';
import { STOPPED, type XmlReader } from './xmlReader.js';
import { isKnownEncoding, xmlChunks, xmlEncodingOf } from './xmlText.js';

/** Few points are shorter. */
export const BYTES_A_POINT = 80;

/** All tracks of a file, with the samples that they belong to. */
export interface ReadTracks {
  readonly columns: SampleColumns;
  readonly notes: NoteCounter;
  readonly tracks: readonly Track[];
}

/** What reads one XML format, and what is said where it finds no track. */
export interface TrackFormat<R extends XmlReader> {
  /** Reads what is plainly written without a tokeniser; null for anything else. */
  readonly plain?: (bytes: Uint8Array) => ReadTracks | null;
  readonly format: RideFormat;
  readonly make: (columns: SampleColumns, notes: NoteCounter) => R;
  readonly tracksOf: (reader: R) => readonly Track[];
  readonly nothing: string;
}

/**
 * Returns the recordings in a file, one a track; tracks that follow each other closely are one recording.
 * Errors: none; what keeps the file from being read is the problem in the answer.
 */
export function readTracks<R extends XmlReader>(
  how: TrackFormat<R>,
  bytes: Uint8Array,
  source: string,
): FileContent {
  const { make, tracksOf } = how;
  const encoding = xmlEncodingOf(bytes);
  if (!isKnownEncoding(encoding)) {
    return setAside(
      'unreadable',
      `The file is in an unknown character encoding, "${encoding}". Export it again.`,
      source,
    );
  }
  const plain = encoding === 'utf-8' ? (how.plain?.(bytes) ?? null) : null;
  if (plain !== null) return contentOf(how, plain, null, source);
  const notes = new NoteCounter();
  const columns = SampleColumns.for(bytes, BYTES_A_POINT);
  const reader = make(columns, notes);
  const stopped = reader.readAll(xmlChunks(bytes, encoding));
  if (stopped !== null && (stopped.why !== 'broken' || columns.count === 0) && !reader.complete) {
    const [code, message] = STOPPED[stopped.why];
    return setAside(code, message, source);
  }
  const damage: Recording['damage'] = stopped === null ? null : reader.complete ? 'checksum' : 'cut-off';
  return contentOf(how, { columns, notes, tracks: tracksOf(reader) }, damage, source);
}

function contentOf(
  { format, nothing }: Pick<TrackFormat<XmlReader>, 'format' | 'nothing'>,
  { columns, notes, tracks }: ReadTracks,
  damage: Recording['damage'],
  source: string,
): FileContent {
  const recordings = recordingsByTrack(columns.samples(), tracks, { format, damage }, notes);
  if (recordings.length > 0) return { recordings };
  const dropped = notes.list().some((note) => note.code.startsWith('position-'));
  return damage !== null || dropped
    ? setAside('unreadable', 'No track point in the file can be used. Export it again.', source)
    : noRide('no-track', nothing, source);
}
