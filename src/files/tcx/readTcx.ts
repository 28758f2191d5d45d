import type { FileContent } from '../../ports/reader.js';
import { readTracks } from '../xml/readTracks.js';
import { TcxTrackReader } from './tcxTrackReader.js';

/** The sports that the schema knows, as FIT profile names; `Other` says nothing. */
const SPORTS: ReadonlyMap<string, string> = new Map([
  ['biking', 'cycling'],
  ['running', 'running'],
]);

/** Returns the recordings in a TCX file, as `readTracks` does. Source: the schema TrainingCenterDatabase v2. */
export const readTcx = (bytes: Uint8Array, source: string): FileContent =>
  readTracks(
    {
      format: 'tcx',
      make: (columns, notes) => new TcxTrackReader(columns, notes),
      tracksOf: ({ activities }) =>
        activities.map(({ sport, segments }) => ({
          ...{ type: sport, segments, subSport: null },
          sport: SPORTS.get(sport.trim().toLowerCase()) ?? null,
        })),
      nothing: 'The file holds no activity, only courses, workouts or nothing: it is no recording.',
    },
    bytes,
    source,
  );
