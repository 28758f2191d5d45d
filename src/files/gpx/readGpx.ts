import type { FileContent } from '../../ports/reader.js';
import { readTracks } from '../xml/readTracks.js';
import { sportOfType } from './gpxSport.js';
import { GpxTrackReader } from './gpxTrackReader.js';

/** Returns the recordings in a GPX file, as `readTracks` does. Source: GPX 1.0 and 1.1. */
export const readGpx = (bytes: Uint8Array, source: string): FileContent =>
  readTracks(
    {
      format: 'gpx',
      make: (columns, notes) => new GpxTrackReader(columns, notes),
      tracksOf: ({ tracks, creator }) =>
        tracks.map((track) => ({ ...track, ...sportOfType(track.type, creator) })),
      nothing: 'The file holds no track, only routes, places or nothing: it is no recording.',
    },
    bytes,
    source,
  );
