/** One ride as two recorders would write it: made pairs, and real ones where a folder holds any. */
import type { Recording } from '../../../src/core/ground/samples/recording.js';
import { type FolderRide, weightOf } from './folderRides.js';
import { dropped, inSteps, noisy, type Perturbation, sampledEvery } from './perturbations.js';
import { readingOf } from './rideSet.js';
import { textTable } from './textTable.js';

const WITHIN = 0.05;

/** A recorder in steps of 1 m that saves room, and one that writes every 5 s with a slowly wandering altimeter. */
const ONE: Perturbation = (recording) => inSteps(1)(dropped(0.3, 'one')(recording));
const OTHER: Perturbation = (recording) => noisy(0.5, 60, 'other')(sampledEvery(5)(recording));

const apartOf = (a: number, b: number): number => Math.abs(Math.log(a / b));

/** Within so much the two stand at one place. Units: degrees, some 500 m. */
const NEAR_DEG = 0.005;
/** Of the shorter ride's time both are under way. */
const TOGETHER = 0.9;

function isOneRide(a: Recording, b: Recording): boolean {
  const [from, to] = [a, b].map(({ samples: { timeMs } }) => [timeMs[0]!, timeMs.at(-1)!] as const) as [
    readonly [number, number],
    readonly [number, number],
  ];
  const shared = Math.min(from[1], to[1]) - Math.max(from[0], to[0]);
  if (!(shared > TOGETHER * Math.min(from[1] - from[0], to[1] - to[0]))) return false;
  const middle = (Math.max(from[0], to[0]) + Math.min(from[1], to[1])) / 2;
  const at = ({ samples: { timeMs, lat, lon } }: Recording): readonly [number, number] => {
    const i = timeMs.findIndex((ms, k) => ms >= middle && !Number.isNaN(lat[k]!));
    return i < 0 ? [Number.NaN, Number.NaN] : [lat[i]!, lon[i]!];
  };
  const [here, there] = [at(a), at(b)];
  return Math.abs(here[0] - there[0]) < NEAR_DEG && Math.abs(here[1] - there[1]) < NEAR_DEG;
}

const lineOf = (name: string, apart: readonly number[]): string[] => {
  const sorted = [...apart].sort((a, b) => a - b);
  const percent = (value: number | undefined): string =>
    value === undefined ? '' : `${(100 * value).toFixed(1)} %`;
  return [
    name,
    String(apart.length),
    percent(sorted[Math.floor(sorted.length / 2)]),
    percent(sorted.at(-1)),
    String(apart.filter((one) => one > Math.log(1 + WITHIN)).length),
  ];
};

/** Returns how far two recordings of one ride lie apart. */
export function twoRecorders(rides: readonly FolderRide[]): string {
  const made = rides.map(({ recording }) =>
    apartOf(weightOf(readingOf(ONE(recording))), weightOf(readingOf(OTHER(recording)))),
  );
  const real = rides.flatMap((one, i) =>
    rides
      .slice(i + 1)
      .filter((other) => isOneRide(one.recording, other.recording))
      .map((other) => apartOf(one.weight, other.weight)),
  );
  return textTable([
    ['two recordings of one ride', 'pairs', 'apart, middle', 'most', 'more than 5 % apart'],
    lineOf('made: 1 m steps and 30 % dropped, against 5 s and 0.5 m of 60 s', made),
    lineOf('real: together in time and place', real),
  ]);
}
