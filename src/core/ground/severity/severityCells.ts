import { type GradientFit, seenShare, spacingIn, thirdDifference } from './gradientChange.js';
import { GRID_M, type GroundGrid } from './groundGrid.js';
import { HIGHEST, LOWEST } from './severityClasses.js';

/** A few hundred metres of one path. Units: moving metres of the path, moving seconds; raw severity 0.2 to 5. */
export interface SeverityCell {
  readonly path: number;
  readonly fromM: number;
  readonly toM: number;
  readonly movingS: number;
  readonly severity: number;
}

const CELL_M = 400;
/** The lags whose energy tells cells apart. Units: metres. */
const CELL_LAGS_M = [60, 80];
/** γ on a typical trail, at the speed it is ridden. */
const TYPICAL_GRADIENT_CHANGE = 0.0185;
const TYPICAL_SPEED_MPS = 2.5;
const SLOWEST_MPS = 1.5;
const FASTEST_MPS = 4;
/** Where it goes down by more than 3 %, speed is the ground's and not the legs'. */
const DESCENT = -0.03;
const FASTEST_DOWN_MPS = 8;

interface CellDraft extends Omit<SeverityCell, 'severity'> {
  /** Energy of gradient change, NaN where nothing was measured. */
  readonly energy: number;
  readonly slope: number;
  readonly speedMps: number;
}

/** Returns the cells of all grids that have elevation, each with its raw severity and the moving seconds that have it. */
export function severityCells(
  grids: readonly GroundGrid[],
  fit: GradientFit,
  growth: number,
  widestM: number,
): SeverityCell[] {
  const drafts = grids
    .flatMap((grid) => draftsOf(grid, fit, growth, widestM))
    .filter(({ movingS }) => movingS > 0);
  const measured = drafts.filter(({ energy }) => !Number.isNaN(energy));
  const measuredS = measured.reduce((sum, { movingS }) => sum + movingS, 0);
  const mean = measured.reduce((sum, { energy, movingS }) => sum + energy * movingS, 0) / measuredS;
  return drafts.map(({ path, fromM, toM, movingS, energy, slope, speedMps }) => {
    // Half of it is the whole ride's: a single cell holds few independent values.
    const relative = mean > 0 && !Number.isNaN(energy) ? energy / mean : 1;
    const gradientChange = fit.gradientChange * Math.sqrt(0.5 + 0.5 * relative);
    return { path, fromM, toM, movingS, severity: rawSeverity(gradientChange, speedMps, slope) };
  });
}

/** Sliding speed goes with the roughness and the square root of speed (ISO 8608 spectrum). */
function rawSeverity(gradientChange: number, speedMps: number, slope: number): number {
  const fastest = slope < DESCENT ? FASTEST_DOWN_MPS : FASTEST_MPS;
  const counted = Math.min(fastest, Math.max(SLOWEST_MPS, speedMps));
  const raw = (gradientChange / TYPICAL_GRADIENT_CHANGE) * Math.sqrt(counted / TYPICAL_SPEED_MPS);
  return Math.min(HIGHEST, Math.max(LOWEST, raw));
}

function draftsOf(grid: GroundGrid, fit: GradientFit, growth: number, widestM: number): CellDraft[] {
  const steps = grid.zM.length - 1;
  const count = Math.max(1, Math.round((steps * GRID_M) / CELL_M));
  const energies = cellEnergies(grid, count, fit, growth);
  return energies.map((energy, index) => {
    const from = Math.round((index * steps) / count);
    const to = Math.round(((index + 1) * steps) / count);
    const isLast = index === count - 1;
    const beforeS = index === 0 ? grid.tS[0]! - grid.startS : 0;
    const afterS = isLast ? grid.endS - grid.tS[steps]! : 0;
    const way = (to - from) * GRID_M;
    const fromM = grid.fromM + from * GRID_M;
    const toM = isLast ? grid.toM : fromM + way;
    return {
      path: grid.pathIndex,
      fromM,
      toM,
      movingS: beforeS + secondsWithElevation(grid, from, to, widestM) + afterS,
      energy,
      slope: way > 0 ? (grid.zM[to]! - grid.zM[from]!) / way : 0,
      speedMps: (toM - fromM) / (beforeS + grid.tS[to]! - grid.tS[from]! + afterS),
    };
  });
}

function secondsWithElevation(
  { tS, bracketM }: GroundGrid,
  from: number,
  to: number,
  widestM: number,
): number {
  let s = 0;
  for (let i = from + 1; i <= to; i += 1) if (bracketM[i]! <= widestM) s += tS[i]! - tS[i - 1]!;
  return s;
}

/** Returns for each cell the mean of (q − σ²)/L² over the lags of about 60 and 80 m, at least 0; NaN without any. */
function cellEnergies(grid: GroundGrid, cells: number, fit: GradientFit, growth: number): number[] {
  const total = new Float64Array(cells);
  const lagsSeen = new Float64Array(cells);
  const points = grid.zM.length;
  for (const lagM of CELL_LAGS_M) {
    const sum = new Float64Array(cells);
    const count = new Float64Array(cells);
    const half = (1.5 * lagM) / GRID_M;
    for (let i = 0; i + 2 * half < points; i += 1) {
      const q = thirdDifference(grid, i, lagM);
      if (Number.isNaN(q)) continue;
      const cell = Math.min(cells - 1, Math.floor(((i + half) * cells) / points));
      sum[cell]! += (q / seenShare(spacingIn(grid, i, lagM), growth) - fit.noiseM ** 2) / lagM ** 2;
      count[cell]! += 1;
    }
    for (let cell = 0; cell < cells; cell += 1) {
      if (count[cell] === 0) continue;
      total[cell]! += sum[cell]! / count[cell]!;
      lagsSeen[cell]! += 1;
    }
  }
  return Array.from(total, (value, cell) =>
    lagsSeen[cell] === 0 ? Number.NaN : Math.max(0, value / lagsSeen[cell]!),
  );
}
