/** What a recorder does to a ride's weight, on every outdoor ride of a folder. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Reading } from '../../../src/core/ground/samples/reading.js';
import type { Recording } from '../../../src/core/ground/samples/recording.js';
import { PERTURBATIONS } from './perturbations.js';
import { LABELLED, piecesOf, readingOf, recordingOf, weighed } from './rideSet.js';

/** Nothing is assumed of the kind of ride, so that a prior hides nothing. */
const NEUTRAL = 1;
/** Shorter rides say little. Units: metres. */
const SHORTEST_M = 3000;
const PIECE_S = 1200;

const weightOf = (reading: Reading): number => weighed(reading, NEUTRAL).weight;

/** How far a weight may move, and for which changes a poor quality excuses it. */
export const AIMS: readonly (readonly [name: string, within: number, excused: boolean])[] = [
  ['5 s sampling', 0.1, false],
  ['10 s sampling', 0.1, false],
  ['30 % of points dropped', 0.1, false],
  ['1 m steps', 0.1, false],
  ['2 m noise, 20 s memory', 0.15, true],
  ['2 m, 20 s, smoothed by the device', 0.15, true],
];
export const POOR = 0.5;

/** A weight and how well the elevation is known. */
export interface Weighed {
  readonly weight: number;
  readonly quality: number;
}

/** A ride as it is and under every change; `pieces` are weights of its 20 minutes, where its ground is known. */
export interface MovedRide extends Weighed {
  readonly file: string;
  readonly recording: Recording;
  readonly reading: Reading;
  readonly moved: Readonly<Record<string, Weighed>>;
  readonly pieces: readonly number[];
}

const weighedOf = (reading: Reading): Weighed => ({
  weight: weightOf(reading),
  quality: reading.terrain.quality ?? 0,
});

/** Returns every outdoor ride of the folder that has elevation, as it is and under every change. */
export function movedRides(folder: string): MovedRide[] {
  return readdirSync(join(folder, 'rides')).flatMap((file) => {
    try {
      const recording = recordingOf(folder, file);
      const reading = readingOf(recording);
      const isKnown = !reading.indoor && reading.terrain.quality !== null && reading.distanceM >= SHORTEST_M;
      if (!isKnown) return [];
      const moved = AIMS.map(([name]) => {
        const perturb = PERTURBATIONS.find(([one]) => one === name)![1];
        return [name, weighedOf(readingOf(perturb(recording)))] as const;
      });
      const isLabelled = LABELLED.some((ride) => ride.file === file);
      const pieces = isLabelled
        ? piecesOf(recording, PIECE_S).map((piece) => weightOf(readingOf(piece)))
        : [];
      return [{ file, recording, reading, ...weighedOf(reading), moved: Object.fromEntries(moved), pieces }];
    } catch {
      // Not one ride: no track, or several in one file.
      return [];
    }
  });
}
