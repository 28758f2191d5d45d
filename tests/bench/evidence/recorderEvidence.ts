/** What a recorder does to a ride's weight, on every outdoor ride of a folder; and the landings that some recorders felt. */
import { seededRandom } from '../../../src/core/chance/seededRandom.js';
import { landingSpeed } from '../../../src/core/ground/samples/landings.js';
import { type FolderRide, kindOf, ridesIn, weightOf } from './folderRides.js';
import { PERTURBATIONS } from './perturbations.js';
import {
  betterTable,
  calibrationTable,
  groupTable,
  withoutEachTable as pairedTable,
} from './recorderBefore.js';
import { movedRides } from './recorderRides.js';
import { LABELLED, piecesOf, readingOf, throughGpx } from './rideSet.js';
import { areaUnderCurve } from './separation.js';
import { textTable } from './textTable.js';
import { twoRecorders } from './twoRecorders.js';

const PIECE_S = 1200;

/** How far a weight may move, and for which changes a poor quality excuses it. */
const AIMS: readonly (readonly [name: string, within: number, excused: boolean])[] = [
  ['5 s sampling', 0.1, false],
  ['10 s sampling', 0.1, false],
  ['30 % of points dropped', 0.1, false],
  ['1 m steps', 0.1, false],
  ['2 m noise, 20 s memory', 0.15, true],
  ['2 m, 20 s, smoothed by the device', 0.15, true],
];
const POOR = 0.5;

function moveTable(rides: readonly FolderRide[]): string {
  const rows = AIMS.map(([name, within, excused]) => {
    const perturb = PERTURBATIONS.find(([one]) => one === name)![1];
    const moved = rides.map(({ recording, weight }) => {
      const reading = readingOf(perturb(recording));
      return { ratio: weightOf(reading) / weight, quality: reading.terrain.quality ?? 0 };
    });
    const ratios = moved.map(({ ratio }) => ratio).sort((a, b) => a - b);
    const far = moved.filter(({ ratio }) => Math.abs(ratio - 1) > within);
    const unnoticed = far.filter(({ quality }) => quality >= POOR);
    return [
      name,
      `${Math.round(100 * within)} %`,
      `${far.length} of ${rides.length}`,
      `${ratios[0]!.toFixed(2)} to ${ratios.at(-1)!.toFixed(2)}`,
      excused ? `${Math.round((100 * (rides.length - unnoticed.length)) / rides.length)} %` : '',
    ];
  });
  return textTable([['change', 'aim', 'beyond it', 'range', 'noticed, or moved less'], ...rows]);
}

/** The same ride by a recorder that writes no speed, distance or effort: a made pair, for want of real ones. */
function pairTable(rides: readonly FolderRide[]): string {
  const apart = rides
    .filter(({ recording: { format, samples } }) => format === 'fit' && !samples.lat.every(Number.isNaN))
    .map(({ file, recording, weight }) => ({
      kind: file.replace(/-.*/, ''),
      apart: Math.abs(Math.log(weightOf(readingOf(throughGpx(recording))) / weight)),
    }));
  const row = (name: string, of: readonly { readonly apart: number }[]): string[] => [
    name,
    String(of.length),
    `${(100 * (of.reduce((sum, one) => sum + one.apart, 0) / of.length)).toFixed(1)} %`,
    String(of.filter((one) => one.apart > Math.log(1.05)).length),
  ];
  const kinds = [...new Set(apart.map(({ kind }) => kind))];
  return textTable([
    ['FIT, and a GPX file written from it', 'rides', 'apart, mean', 'more than 5 % apart'],
    row('all', apart),
    ...kinds.map((kind) =>
      row(
        kind,
        apart.filter((one) => one.kind === kind),
      ),
    ),
  ]);
}

const DRAWS = 2000;

/** On what ground a ride was, as somebody labelled it or its kind says; null where nothing does. */
function groundOf(ride: FolderRide): 'rough' | 'smooth' | null {
  const labelled = LABELLED.find(({ file }) => file === ride.file)?.ground;
  const kind = kindOf(ride);
  if (labelled !== undefined || kind === null) return labelled ?? null;
  return kind === 'trail' || kind === 'gravity' ? 'rough' : 'smooth';
}

/** Its serial number, else whose it is as far as is known, else the file alone. Nothing of it is printed. */
const recorderOf = ({ file, recording }: FolderRide): string =>
  recording.serial ?? String(LABELLED.find((one) => one.file === file)?.rider ?? file);

/** Leaves out one recorder after the other, with all its rides; the interval is over rides drawn anew. */
function withoutEachTable(rides: readonly FolderRide[]): string {
  const pieces = rides.flatMap((one) => {
    const ground = groundOf(one);
    if (ground === null) return [];
    const ride = { file: one.file, ground, recorder: recorderOf(one) };
    return piecesOf(one.recording, PIECE_S).map((piece) => ({ ride, weight: weightOf(readingOf(piece)) }));
  });
  type Piece = (typeof pieces)[number];
  const area = (of: readonly Piece[]): number => {
    const on = (ground: string) =>
      of.filter(({ ride }) => ride.ground === ground).map(({ weight }) => weight);
    return areaUnderCurve(on('rough'), on('smooth'));
  };
  const rangeOf = (of: readonly Piece[]): string => {
    const random = seededRandom('rides anew');
    const files = [...new Set(of.map(({ ride }) => ride.file))];
    const drawn = Array.from({ length: DRAWS }, () =>
      area(
        files.flatMap(() => {
          const file = files[Math.floor(random() * files.length)];
          return of.filter(({ ride }) => ride.file === file);
        }),
      ),
    )
      .filter((one) => !Number.isNaN(one))
      .sort((a, b) => a - b);
    const at = (q: number): string => drawn[Math.floor(q * (drawn.length - 1))]!.toFixed(2);
    return `${at(0.025)} to ${at(0.975)}`;
  };
  const row = (name: string, of: readonly Piece[]): string[] => [
    name,
    String(of.length),
    area(of).toFixed(3),
    rangeOf(of),
  ];
  const recorders = [...new Set(pieces.map(({ ride }) => ride.recorder))];
  const filesOf = (recorder: string): string =>
    [...new Set(pieces.flatMap(({ ride }) => (ride.recorder === recorder ? [ride.file] : [])))].join(', ');
  return textTable([
    ['pieces of 20 minutes, rough above smooth', 'pieces', 'area', '95 % over rides'],
    row('all', pieces),
    ...recorders.map((recorder) =>
      row(
        `without the recorder of ${filesOf(recorder)}`,
        pieces.filter(({ ride }) => ride.recorder !== recorder),
      ),
    ),
  ]);
}

function landingTable(rides: readonly FolderRide[]): string {
  const rows = rides.flatMap(({ file, reading, weight }) => {
    const { landings, ...ground } = reading.terrain;
    if (landings === undefined) return [];
    const { count, hangS, longestS } = landings;
    return [
      [
        file,
        String(count),
        (count / (reading.movingS / 3600)).toFixed(1),
        hangS.toFixed(1),
        longestS === null ? '' : longestS.toFixed(2),
        longestS === null ? '' : landingSpeed(longestS).toFixed(1),
        weightOf({ ...reading, terrain: ground }).toFixed(2),
        weight.toFixed(2),
      ],
    ];
  });
  const head = ['ride', 'landings', 'an hour', 'in the air s', 'longest s', 'm/s at most'];
  return textTable([[...head, 'weight without', 'with'], ...rows]);
}

/** Returns the tables; the folder is STANCHION_RECORDINGS. */
export async function recorderEvidence(): Promise<string> {
  const folder = process.env.STANCHION_RECORDINGS;
  if (folder === undefined) return 'Recorders: left out, STANCHION_RECORDINGS names no folder of recordings.';
  const rides = ridesIn(folder);
  const moved = movedRides(folder);
  return [
    `# What a recorder does to the weight: ${rides.length} outdoor rides of the folder, prior 1`,
    moveTable(rides),
    '## Two recorders of one ride',
    pairTable(rides),
    twoRecorders(rides),
    '## Without one recorder after the other',
    withoutEachTable(rides),
    '## Held against reader 5: pieces of 20 minutes, rough above smooth, without one recorder after the other',
    pairedTable(moved),
    betterTable(moved),
    '## Is a quality that is called good worth its name? Rides under all six changes',
    calibrationTable(moved),
    '## How far weights move under all six changes, by kind and by where the files are from (three rides or more)',
    groupTable(moved, folder),
    '## Landings that recorders felt, of every ride whose recorder counts them',
    landingTable(rides),
  ].join('\n\n');
}
