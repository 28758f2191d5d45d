import { estimateTerrain, type TerrainEstimate } from '../../../src/core/ground/severity/severity.js';
import {
  CLASS_MEANS,
  CLASS_NAMES,
  hills,
  IDEAL,
  isoProfile,
  type Recorder,
  recordedPath,
  roughnessIndex,
  slidingMetresPerHour,
  USUAL,
} from './iso8608.js';
import { median, rankCorrelation } from './separation.js';
import { textTable } from './textTable.js';

const LENGTH_M = 20_000;
const STEP_M = 0.25;
const SEEDS = ['a', 'b', 'c', 'd', 'e', 'f'];
/** The class that the others are held against: the estimate's level means nothing, its proportion does. */
const ANCHOR = 6;

interface Setting {
  readonly name: string;
  readonly recorder: Recorder;
  readonly grade: number;
}

const SETTINGS: readonly Setting[] = [
  { name: 'no recorder at all', recorder: IDEAL, grade: 0 },
  { name: '5 s filter, 0.2 m steps, noise, drift', recorder: USUAL, grade: 0 },
  { name: 'the same, 1 m steps', recorder: { ...USUAL, stepM: 1 }, grade: 0 },
  { name: 'the same, hills of 6 %', recorder: USUAL, grade: 0.06 },
  { name: 'the same, hills of 15 %', recorder: USUAL, grade: 0.15 },
  { name: 'hills of 15 %, 1 m steps', recorder: { ...USUAL, stepM: 1 }, grade: 0.15 },
];

function estimate(gd: number, speedMps: number, { recorder, grade }: Setting, seed: string): TerrainEstimate {
  const ground = isoProfile(gd, LENGTH_M, STEP_M, `ground ${seed}`);
  const long = hills(LENGTH_M, STEP_M, grade);
  const profile = ground.map((z, i) => z + long[i]!);
  return estimateTerrain([recordedPath(profile, STEP_M, speedMps, recorder, `recorder ${seed}`)]);
}

/** Raw severity before it is clipped, on ground that is everywhere the same. */
const unclipped = ({ terrain }: TerrainEstimate, speedMps: number): number =>
  (terrain.gradientChange! / 0.02) * Math.sqrt(speedMps / 2.5);

/** Returns how γ follows the classes, and where it stops to. */
export function classTable(): string {
  const head = ['γ in % at 4 m/s (largest − smallest of six); share of √Gd kept, of class G', ...CLASS_NAMES];
  const rows = SETTINGS.flatMap((setting) => {
    const byClass = CLASS_MEANS.map((gd, k) =>
      SEEDS.map((seed) => 100 * estimate(gd, 4, setting, `${k}${seed}`).terrain.gradientChange!),
    );
    const anchor = median(byClass[ANCHOR]!) / Math.sqrt(CLASS_MEANS[ANCHOR]!);
    return [
      [
        setting.name,
        ...byClass.map(
          (all) => `${median(all).toFixed(2)} (${(Math.max(...all) - Math.min(...all)).toFixed(2)})`,
        ),
      ],
      ['', ...byClass.map((all, k) => (median(all) / Math.sqrt(CLASS_MEANS[k]!) / anchor).toFixed(2))],
    ];
  });
  return textTable([head, ...rows]);
}

/** Returns what speed alone does to the estimate on the same ground. */
export function speedTable(): string {
  const speeds = [2, 4, 6, 8, 12];
  const [usual] = SETTINGS.filter(({ recorder, grade }) => recorder === USUAL && grade === 0);
  const gammas = speeds.map((v) =>
    median(SEEDS.map((seed) => estimate(CLASS_MEANS[7]!, v, usual!, seed).terrain.gradientChange!)),
  );
  return textTable([
    ['class H behind a 5 s filter', ...speeds.map((v) => `${v} m/s`)],
    ['γ, of that at 2 m/s', ...gammas.map((gamma) => (gamma / gammas[0]!).toFixed(2))],
  ]);
}

const MASS = { naturalHz: 2, damping: 0.3 };

/** Returns how raw severity goes with the way that a simulated suspension slides on the same ground. */
export function slidingTable(): string {
  const speeds = [2, 3, 4, 6];
  const visible: { slid: number; raw: number }[] = [];
  const all: { slid: number; raw: number }[] = [];
  const rows = CLASS_NAMES.map((name, k) => [
    name,
    ...speeds.map((v) => {
      const gd = CLASS_MEANS[k]!;
      const raw = unclipped(estimate(gd, v, SETTINGS[1]!, `${k}slide`), v);
      const slid = slidingMetresPerHour(isoProfile(gd, 4000, 0.1, `ground ${k}slide`), 0.1, v, MASS);
      all.push({ slid, raw });
      if (k >= 4) visible.push({ slid, raw });
      return `${slid.toFixed(0)} m/h ${raw.toFixed(2)}`;
    }),
  ]);
  const correlation = (pairs: typeof all): string =>
    rankCorrelation(
      pairs.map(({ slid }) => slid),
      pairs.map(({ raw }) => raw),
    ).toFixed(2);
  const ratios = visible.map(({ slid, raw }) => raw / slid);
  return [
    textTable([['simulated sliding, raw severity unclipped', ...speeds.map((v) => `${v} m/s`)], ...rows]),
    `Rank correlation: ${correlation(all)} over all classes, ${correlation(visible)} over E to H. Severity per metre slid, E to H: largest ÷ smallest ${(Math.max(...ratios) / Math.min(...ratios)).toFixed(1)}. In rides raw severity is clipped at 0.2, and speed counts only from 1.5 to 4 m/s (8 downhill).`,
  ].join('\n');
}

/** Returns the roughness index by class, as published and by its own quarter car. */
export const indexTable = (): string =>
  textTable([
    ['IRI in m/km', ...CLASS_NAMES],
    ['0.22 · √Gd, Gd in 10⁻⁶ m³', ...CLASS_MEANS.map((gd) => (0.22 * Math.sqrt(gd * 1e6)).toFixed(2))],
    ['quarter car at 80 km/h', ...CLASS_MEANS.map((gd) => roughnessIndex(gd).toFixed(2))],
  ]);
