/** The estimate held against what reader 5 said of the same rides: paired, over rides drawn anew. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { seededRandom } from '../../../src/core/chance/seededRandom.js';
import reader5 from './recorderBefore.json' with { type: 'json' };
import { AIMS, type MovedRide, POOR } from './recorderRides.js';
import { LABELLED } from './rideSet.js';
import { areaUnderCurve } from './separation.js';
import { textTable } from './textTable.js';

interface RideBefore {
  readonly weight: number;
  readonly quality: number;
  /** Weight and quality under each change. */
  readonly moved: Readonly<Record<string, readonly number[]>>;
  readonly pieces?: readonly number[];
}
const BEFORE: Readonly<Record<string, RideBefore>> = reader5.rides;

const DRAWS = 2000;
const GOOD = 0.7;
const FAR = 0.1;
const LEAST_RIDES = 3;

/** A ride with what both readers say of it, in the same terms. */
interface Pair {
  readonly file: string;
  readonly ground: string | null;
  readonly rider: number | null;
  readonly now: Figures;
  readonly before: Figures;
}
interface Figures {
  readonly pieces: readonly number[];
  /** By how much the logarithm of the weight moves, root mean square over all changes. */
  readonly moves: number;
}

const movesOf = (weight: number, moved: readonly number[]): number =>
  Math.sqrt(moved.reduce((sum, one) => sum + Math.log(one / weight) ** 2, 0) / moved.length);

/** Rides that reader 5 never saw are left out. */
const pairsOf = (rides: readonly MovedRide[]): Pair[] =>
  rides.flatMap((ride) => {
    const then = BEFORE[ride.file];
    if (then === undefined) return [];
    const label = LABELLED.find(({ file }) => file === ride.file);
    const now = AIMS.map(([name]) => ride.moved[name]!.weight);
    return [
      {
        file: ride.file,
        ground: label?.ground ?? null,
        rider: label?.rider ?? null,
        now: { pieces: ride.pieces, moves: movesOf(ride.weight, now) },
        before: {
          pieces: then.pieces ?? [],
          moves: movesOf(
            then.weight,
            AIMS.map(([name]) => then.moved[name]![0]!),
          ),
        },
      },
    ];
  });

type Which = 'now' | 'before';

const areaOf = (pairs: readonly Pair[], which: Which): number => {
  const on = (wanted: string) =>
    pairs.filter(({ ground }) => ground === wanted).flatMap((pair) => pair[which].pieces);
  return areaUnderCurve(on('rough'), on('smooth'));
};

/** Returns a figure for each time that as many were drawn anew, in rising order; draws without one of the grounds are left out. */
function drawn(of: readonly Pair[], figure: (pairs: readonly Pair[]) => number): number[] {
  const random = seededRandom('rides anew');
  return Array.from({ length: DRAWS }, () =>
    figure(Array.from(of, () => of[Math.floor(random() * of.length)]!)),
  )
    .filter((one) => !Number.isNaN(one))
    .sort((a, b) => a - b);
}

const range = (sorted: readonly number[]): string => {
  const at = (q: number): string => sorted[Math.floor(q * (sorted.length - 1))]!.toFixed(2);
  return `${at(0.025)} to ${at(0.975)}`;
};

const share = (of: readonly number[], is: (one: number) => boolean): string =>
  `${Math.round((100 * of.filter(is).length) / of.length)} %`;

/** Leaves out one rider, and so the recorder, after the other; the interval is over rides drawn anew. */
export function withoutEachTable(rides: readonly MovedRide[]): string {
  const pairs = pairsOf(rides).filter(({ ground }) => ground !== null);
  const row = (name: string, of: readonly Pair[]): string[] => [
    name,
    String(of.reduce((sum, { now }) => sum + now.pieces.length, 0)),
    areaOf(of, 'before').toFixed(3),
    areaOf(of, 'now').toFixed(3),
    range(drawn(of, (some) => areaOf(some, 'now'))),
  ];
  const riders = [...new Set(pairs.map(({ rider }) => rider))];
  return textTable([
    ['', 'pieces', 'before', 'now', '95 % over rides'],
    row('all', pairs),
    ...riders.map((rider) => {
      const files = pairs.filter((one) => one.rider === rider).map(({ file }) => file);
      return row(
        `without the recorder of ${files.length > 1 ? `${files[0]} and ${files.length - 1} more` : files[0]}`,
        pairs.filter((one) => one.rider !== rider),
      );
    }),
  ]);
}

/** How often the area is better, or no worse, in the same draws. */
export function betterTable(rides: readonly MovedRide[]): string {
  const pairs = pairsOf(rides).filter(({ ground }) => ground !== null);
  const gains = drawn(pairs, (some) => areaOf(some, 'now') - areaOf(some, 'before'));
  return textTable([
    ['area now less before, in draws of whole rides', 'better', 'no worse', '95 %'],
    ['all', share(gains, (one) => one > 0), share(gains, (one) => one >= 0), range(gains)],
  ]);
}

/** Rides by their quality under a change: how many moved by more than a tenth. */
export function calibrationTable(rides: readonly MovedRide[]): string {
  const bands: readonly (readonly [string, number, number])[] = [
    ['good', GOOD, 1.01],
    ['fair', POOR, GOOD],
    ['poor', 0, POOR],
  ];
  const now = rides.flatMap(({ weight, moved }) =>
    Object.values(moved).map((one) => [one.weight / weight, one.quality] as const),
  );
  const then = rides.flatMap(({ file }) => {
    const ride = BEFORE[file];
    return Object.values(ride?.moved ?? {}).map(([w, q]) => [w! / ride!.weight, q!] as const);
  });
  const told = (all: readonly (readonly [number, number])[], from: number, to: number): string => {
    const those = all.filter(([, quality]) => quality >= from && quality < to);
    const far = those.filter(([ratio]) => Math.abs(ratio - 1) > FAR).length;
    return `${far} of ${those.length}`;
  };
  return textTable([
    ['quality', 'moved by more than a tenth, before', 'now'],
    ...bands.map(([name, from, to]) => [name, told(then, from, to), told(now, from, to)]),
  ]);
}

/** Where each file of the folder is from, as its manifest says. */
function sourcesOf(folder: string): ReadonlyMap<string, string> {
  const { files } = JSON.parse(readFileSync(join(folder, 'manifest.json'), 'utf8')) as {
    readonly files: readonly { readonly file: string; readonly from: string }[];
  };
  return new Map(files.map(({ file, from }) => [file.replace('rides/', ''), from]));
}

/** By how much logarithms of weights move; the interval is of the paired difference, over rides drawn anew. */
export function groupTable(rides: readonly MovedRide[], folder: string): string {
  const pairs = pairsOf(rides);
  const sources = sourcesOf(folder);
  const mean = (of: readonly Pair[], which: Which): number =>
    of.reduce((sum, pair) => sum + pair[which].moves, 0) / of.length;
  const row = (name: string, of: readonly Pair[]): string[] => [
    name,
    String(of.length),
    mean(of, 'before').toFixed(3),
    mean(of, 'now').toFixed(3),
    range(drawn(of, (some) => mean(some, 'now') - mean(some, 'before'))),
  ];
  const grouped = (keyOf: (file: string) => string): string[][] =>
    [...new Set(pairs.map(({ file }) => keyOf(file)))]
      .map((key) => [key, pairs.filter(({ file }) => keyOf(file) === key)] as const)
      .filter(([, of]) => of.length >= LEAST_RIDES)
      .map(([key, of]) => row(key, of));
  const sourceNames = [...new Set(sources.values())];
  return textTable([
    ['', 'rides', 'before', 'now', 'difference, 95 %'],
    row('all', pairs),
    ...grouped((file) => `kind: ${file.replace(/-.*/, '')}`),
    ...grouped((file) => `source ${1 + sourceNames.indexOf(sources.get(file) ?? '')}`),
  ]);
}
