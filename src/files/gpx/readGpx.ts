import type { FileContent } from '../../ports/reader.js';
import { readTracks, type TrackFormat } from '../xml/readTracks.js';
import { sportOfType } from './gpxSport.js';
import { GpxTrackReader } from './gpxTrackReader.js';
import { readPlainGpx } from './plain/plainGpx.js';

const tracksOf = ({ tracks, creator }: Pick<GpxTrackReader, 'tracks' | 'creator'>) =>
  tracks.map((track) => ({ ...track, ...sportOfType(track.type, creator) }));

/** Reads any GPX file, by a tokeniser that knows XML whole. */
export const BY_TOKENISER: TrackFormat<GpxTrackReader> = {
  format: 'gpx',
  make: (columns, notes) => new GpxTrackReader(columns, notes),
  tracksOf,
  nothing: 'The file holds no track, only routes, places or nothing: it is no recording.',
};

const GPX: TrackFormat<GpxTrackReader> = {
  ...BY_TOKENISER,
  plain: (bytes) => {
    const read = readPlainGpx(bytes);
    return read === null ? null : { ...read, tracks: tracksOf(read) };
  },
};

/** Returns the recordings in a GPX file, as `readTracks` does. Source: GPX 1.0 and 1.1. */
export const readGpx = (bytes: Uint8Array, source: string): FileContent => readTracks(GPX, bytes, source);
