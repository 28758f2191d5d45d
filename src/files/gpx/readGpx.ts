import { recordingsByTrack } from '../../core/ground/samples/byTrack.js';
import { NoteCounter } from '../../core/ground/samples/notes.js';
import type { Recording } from '../../core/ground/samples/recording.js';
import type { FileContent } from '../../ports/reader.js';
import { ENTITIES_MESSAGE, noRide, setAside } from '../fileContent.js';
import { SampleColumns } from '../sampleColumns.js';
import { sportOfType } from './gpxSport.js';
import { GpxTrackReader, type Stopped } from './gpxTrackReader.js';
import { isKnownEncoding, xmlChunks, xmlEncodingOf } from './xmlText.js';

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
  const columns = new SampleColumns();
  const reader = new GpxTrackReader(columns, notes);
  const stopped = reader.readAll(xmlChunks(bytes, encoding));
  if (stopped !== null && (stopped.why !== 'broken' || columns.count === 0) && !reader.complete) {
    const [code, message] = REFUSED[stopped.why];
    return setAside(code, message, source);
  }
  const damage = stopped === null ? null : reader.complete ? 'checksum' : 'cut-off';
  const tracks = reader.tracks.map((track) => ({ ...track, ...sportOfType(track.type, reader.creator) }));
  const recordings = recordingsByTrack(columns.samples(), tracks, { format: 'gpx', damage }, notes);
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
