import type { Reading } from '../../../src/core/ground/samples/reading.js';
import { noisy, PERTURBATIONS } from './perturbations.js';
import {
  LABELLED,
  type LabelledRide,
  piecesOf,
  readingOf,
  recordingOf,
  throughGpx,
  weighed,
} from './rideSet.js';
import { areaUnderCurve, median } from './separation.js';
import { classTable, indexTable, slidingTable, speedTable } from './syntheticGround.js';
import { textTable } from './textTable.js';

const PIECE_S = 1200;
const SEEDS = 20;
const MATCHED_MPS = [3, 5.5] as const;
/** What was assumed of the ground when the constants were chosen. */
const NEUTRAL = 1;

/** Returns what the severity estimate gives on real and made ground, its failures included; real rides only where there are some. */
export const severityEvidence = async (): Promise<string> => {
  const folder = process.env.STANCHION_RECORDINGS;
  const real =
    folder === undefined
      ? ['Severity: no folder of recordings (STANCHION_RECORDINGS), so no real ride is shown.']
      : [
          '## Real rides, without knowing their kind (prior 1), and as a user sees them',
          rideTable(folder),
          `## Pieces of ${PIECE_S / 60} minutes, prior 1`,
          separation(folder),
          '## How far the weight moves when the recording is changed: ratio to the original, and Q; prior by kind of ride',
          perturbationTable(folder),
          `## Smooth rides with a noisy altimeter: the largest Q and weight over ${SEEDS} draws of noise`,
          noisyTable(folder),
          '## FIT against a GPX file written from it',
          formatTable(folder),
        ];
  return [
    '# How hard was the ground? The severity estimate',
    'Labels say on what ground a ride was, never how fast anything wore. Constants were set on rides like these.',
    ...real,
    '## Made ground: ISO 8608 classes',
    classTable(),
    speedTable(),
    '## A single mass (2 Hz, damping 0.3) over the same made ground',
    slidingTable(),
    '## Roughness index: the published rule of thumb and the quarter car differ in level, not in proportion',
    indexTable(),
    KNOWN_FAILURES,
  ].join('\n\n');
};

const KNOWN_FAILURES = `## Known failures
- Roots, rocks and braking bumps are not seen: flat rough ground reads smooth, steep rolling tarmac like a mild trail.
- Slow altitude error that the device has smoothed before recording looks like ground where no way is ridden again and the bike never stands; Q is fair then (rows "smoothed by the device").
- At like speed the pieces are few, and slowness alone ranks them no worse: labels cannot tell how much of the weight speed deserves.
- Under noise the weight of a smooth ride rises towards its prior; where its kind is unknown and only one witness speaks (road-08), above 0.8.
- Ground of ISO 8608 classes A to D reads as one value; hills add a floor.
- Ground recorded without any smoothing looks like a noisy altimeter: γ is right, Q is not.`;

const fixed = (value: number | null | undefined, digits: number): string =>
  value === null || value === undefined ? '–' : value.toFixed(digits);

function rideTable(folder: string): string {
  const rows = [...LABELLED.map(({ file }) => file), 'bike-12.fit'].map((file) => {
    const reading = readingOf(recordingOf(folder, file));
    const { terrain, movingS, distanceM } = reading;
    const neutral = weighed(reading, NEUTRAL);
    const own = weighed(reading);
    return [
      file,
      (distanceM / 1000).toFixed(1),
      (movingS / 3600).toFixed(2),
      fixed((terrain.gradientChange ?? Number.NaN) * 100, 2),
      fixed(terrain.noiseM, 2),
      fixed(terrain.quality, 2),
      terrain.witness.toFixed(2),
      neutral.severity.toFixed(2),
      neutral.weight.toFixed(2),
      own.severity.toFixed(2),
      own.weight.toFixed(2),
    ];
  });
  const head = ['ride', 'km', 'moving h', 'γ %', 'σ m', 'Q', 'u', 'severity', 'weight', 'shown', 'weight'];
  return textTable([head, ...rows]);
}

interface Piece {
  readonly ride: LabelledRide;
  readonly speedMps: number;
  readonly weight: number;
  readonly byElevation: number;
}

/** Returns every whole piece of the labelled rides, weighed without knowing its kind. */
export function labelledPieces(folder: string): Piece[] {
  return LABELLED.flatMap((ride) =>
    piecesOf(recordingOf(folder, ride.file), PIECE_S).map((piece) => pieceOf(ride, readingOf(piece))),
  );
}

function pieceOf(ride: LabelledRide, reading: Reading): Piece {
  const alone = { ...reading, terrain: { ...reading.terrain, witnessWeight: 0, witness: 0 } };
  return {
    ride,
    speedMps: reading.distanceM / reading.movingS,
    weight: weighed(reading, NEUTRAL).weight,
    byElevation: weighed(alone, NEUTRAL).severity,
  };
}

/** Returns how well the pieces of rough rides stand apart from those of smooth ones. */
export function separationOf(pieces: readonly Piece[]): {
  readonly rough: Counts;
  readonly smooth: Counts;
  readonly area: number;
  readonly byElevation: number;
  readonly bySlowness: number;
  readonly ratio: number;
} {
  const of = (ground: LabelledRide['ground']) => pieces.filter(({ ride }) => ride.ground === ground);
  const [rough, smooth] = [of('rough'), of('smooth')];
  const area = (value: (piece: Piece) => number) => areaUnderCurve(rough.map(value), smooth.map(value));
  return {
    rough: countsOf(rough),
    smooth: countsOf(smooth),
    area: area(({ weight }) => weight),
    byElevation: area(({ byElevation }) => byElevation),
    bySlowness: area(({ speedMps }) => -speedMps),
    ratio: median(rough.map(({ weight }) => weight)) / median(smooth.map(({ weight }) => weight)),
  };
}

interface Counts {
  readonly pieces: number;
  readonly rides: number;
  readonly riders: number;
}

const countsOf = (pieces: readonly Piece[]): Counts => ({
  pieces: pieces.length,
  rides: new Set(pieces.map(({ ride }) => ride.file)).size,
  riders: new Set(pieces.map(({ ride }) => ride.rider)).size,
});

export const isMatched = ({ speedMps }: Piece): boolean =>
  speedMps >= MATCHED_MPS[0] && speedMps <= MATCHED_MPS[1];

function separation(folder: string): string {
  const pieces = labelledPieces(folder);
  const counted = ({ pieces, rides, riders }: Counts) => `${pieces} / ${rides} / ${riders}`;
  const row = (name: string, of: readonly Piece[]): string[] => {
    const { rough, smooth, area, byElevation, bySlowness, ratio } = separationOf(of);
    return [
      name,
      counted(rough),
      counted(smooth),
      area.toFixed(3),
      byElevation.toFixed(3),
      bySlowness.toFixed(3),
      ratio.toFixed(2),
    ];
  };
  return textTable([
    [
      '',
      'rough: pieces / rides / riders',
      'smooth',
      'area under the curve',
      'by elevation alone',
      'by slowness alone',
      'median weights, rough ÷ smooth',
    ],
    row('all', pieces),
    row(`at ${MATCHED_MPS.join(' to ')} m/s`, pieces.filter(isMatched)),
  ]);
}

const MOVED = [
  'mountain-01.fit',
  'mountain-02.fit',
  'bike-10.gpx',
  'gravel-01.fit',
  'road-01.fit',
  'road-03.fit',
  'road-06.fit',
  'road-07.fit',
];

function perturbationTable(folder: string): string {
  const recordings = MOVED.map((file) => recordingOf(folder, file));
  const originals = recordings.map((recording) => weighed(readingOf(recording)).weight);
  const rows = PERTURBATIONS.map(([name, perturb]) => [
    name,
    ...recordings.map((recording, i) => {
      const reading = readingOf(perturb(recording));
      return `${(weighed(reading).weight / originals[i]!).toFixed(2)}  Q ${fixed(reading.terrain.quality, 2)}`;
    }),
  ]);
  return textTable([['', ...MOVED.map((file) => file.replace(/\.\w+$/, ''))], ...rows]);
}

function noisyTable(folder: string): string {
  const kinds = [
    ['1 m white', 1, 0],
    ['2 m, 60 s memory', 2, 60],
  ] as const;
  const rows = LABELLED.filter(({ ground }) => ground === 'smooth').map(({ file }) => {
    const recording = recordingOf(folder, file);
    const cells = kinds.flatMap(([name, spreadM, memoryS]) => {
      const drawn = Array.from({ length: SEEDS }, (_, i) =>
        readingOf(noisy(spreadM, memoryS, `${name} ${i} ${file}`)(recording)),
      );
      const largest = (value: (reading: Reading) => number): string =>
        Math.max(...drawn.map(value)).toFixed(2);
      return [
        largest(({ terrain }) => terrain.quality ?? 0),
        largest((reading) => weighed(reading).weight),
        largest((reading) => weighed(reading, NEUTRAL).weight),
      ];
    });
    return [file, ...cells];
  });
  const head = kinds.flatMap(([name]) => [`${name}: Q`, 'weight', 'kind unknown']);
  return textTable([['', ...head], ...rows]);
}

function formatTable(folder: string): string {
  const rows = ['mountain-01.fit', 'mountain-02.fit', 'gravel-01.fit', 'road-01.fit', 'road-06.fit'].map(
    (file) => {
      const recording = recordingOf(folder, file);
      const both = [recording, throughGpx(recording)].map((one) => weighed(readingOf(one), NEUTRAL).weight);
      return [file, both[0]!.toFixed(3), both[1]!.toFixed(3), (both[1]! / both[0]!).toFixed(3)];
    },
  );
  return textTable([['ride', 'weight, FIT', 'weight, GPX', 'ratio'], ...rows]);
}
