/** The outdoor rides of any folder of recordings. */
import { readdirSync } from 'node:fs';
import { extname, join, relative } from 'node:path';
import type { Reading } from '../../../src/core/ground/samples/reading.js';
import type { Recording } from '../../../src/core/ground/samples/recording.js';
import { groundTypeOf } from '../../../src/core/subSports.js';
import type { BikeType } from '../../../src/core/tokens.js';
import { readingOf, recordingOf, weighed } from './rideSet.js';

/** Nothing is assumed of the kind of ride, so that a prior hides nothing. */
const NEUTRAL = 1;
/** Shorter rides say little. Units: metres. */
const SHORTEST_M = 3000;
const FORMATS = ['.fit', '.gpx', '.tcx'];

export interface FolderRide {
  /** Below the folder's `rides`. */
  readonly file: string;
  readonly recording: Recording;
  readonly reading: Reading;
  /** At a prior of 1. */
  readonly weight: number;
}

export const weightOf = (reading: Reading): number => weighed(reading, NEUTRAL).weight;

/** Returns every outdoor ride with elevation in `rides` below the folder, however deep. */
export function ridesIn(folder: string): FolderRide[] {
  const rides = join(folder, 'rides');
  const files = readdirSync(rides, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && FORMATS.includes(extname(entry.name).toLowerCase()))
    .map(({ parentPath, name }) => relative(rides, join(parentPath, name)))
    .sort();
  return files.flatMap((file) => {
    try {
      const recording = recordingOf(folder, file);
      const reading = readingOf(recording);
      const isKnown = !reading.indoor && reading.terrain.quality !== null && reading.distanceM >= SHORTEST_M;
      return isKnown ? [{ file, recording, reading, weight: weightOf(reading) }] : [];
    } catch {
      // Not one ride: no track, or several in one file.
      return [];
    }
  });
}

/** Returns the kind of ride that the file names, else the one that its name begins with. */
export function kindOf({ file, reading }: FolderRide): BikeType | null {
  const named = groundTypeOf(reading.subSport);
  if (named !== null) return named;
  const word = /(?:^|\/)(road|gravel|mountain|downhill)[^/]*$/.exec(file)?.[1];
  const kinds: Readonly<Record<string, BikeType>> = { mountain: 'trail', downhill: 'gravity' };
  return word === undefined ? null : (kinds[word] ?? (word as BikeType));
}
