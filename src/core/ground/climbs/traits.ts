/** What a stage of a way up looks like. */
import { straightM } from '../samples/ellipsoid.js';
import { GRID_S, type TimeGrid } from '../samples/timeGrid.js';
import { CHORD, chordM, paceOf, type Stage } from './stages.js';

export interface Traits {
  /** Units: seconds on the move, metres. */
  readonly seconds: number;
  readonly upM: number;
  readonly wayM: number;
  /** What a rider would have had to do for each kilogram of rider and bike. Units: W/kg. */
  readonly work: number;
  /** Chord over path, by windows of 90 s; standard deviation over mean of the speeds. NaN without positions. */
  readonly straightness: number;
  readonly unsteadiness: number;
  /** Null where not recorded. Units: beats and turns a minute, watts. */
  readonly heartBpm: number | null;
  readonly cadenceRpm: number | null;
  readonly powerW: number | null;
  /** The share of the time with pedals that turn, by cadence or power; null where neither is recorded. */
  readonly pedalled: number | null;
}

/** Units: grid cells. */
const WINDOW = 90 / GRID_S;
/** A heart needs so long to follow. */
const HEART_LAG = 90 / GRID_S;
const MOVING_MPS = 0.6;
const TURNS_RPM = 25;
const TURNS_W = 30;

/** Returns the metres that a stage climbs and goes on the move, as its traits have them. */
export function climbedAndGone({ grid, from, to }: Stage): Pick<Traits, 'upM' | 'wayM'> {
  const pace = paceOf(grid);
  let wayM = 0;
  for (let k = from; k < to; k++) {
    const mps = pace.mps[k]!;
    if (mps >= MOVING_MPS) wayM += mps * GRID_S;
  }
  return { wayM, upM: grid.zM[to]! - grid.zM[from]! };
}

export function traitsOf({ grid, from, to }: Stage): Traits {
  const pace = paceOf(grid);
  let [seconds, wayM, work, known] = [0, 0, 0, 0];
  for (let k = from; k < to; k++) {
    const mps = pace.mps[k]!;
    if (!(mps >= MOVING_MPS)) continue;
    seconds += GRID_S;
    wayM += mps * GRID_S;
    if (Number.isNaN(pace.upMps[k]!)) continue;
    work += pace.work[k]!;
    known += 1;
  }
  const lagged = Math.min(from + HEART_LAG, from + Math.floor((to - from) / 2));
  return {
    seconds,
    wayM,
    upM: grid.zM[to]! - grid.zM[from]!,
    work: known === 0 ? 0 : work / known,
    straightness: straightnessOf(grid, from, to),
    unsteadiness: unsteadinessOf(pace.mps, from + CHORD, to - CHORD),
    heartBpm: meanOf(grid.heartBpm, lagged, to),
    cadenceRpm: meanOf(grid.cadenceRpm, from, to),
    powerW: meanOf(grid.powerW, from, to),
    pedalled: shareAbove(grid.powerW, TURNS_W, from, to) ?? shareAbove(grid.cadenceRpm, TURNS_RPM, from, to),
  };
}

/** Standard deviation over mean of the speeds on the move. */
function unsteadinessOf(speeds: Float64Array, from: number, to: number): number {
  let [sum, count, squares] = [0, 0, 0];
  for (let k = from; k < to; k++)
    if (speeds[k]! >= MOVING_MPS) {
      sum += speeds[k]!;
      count += 1;
    }
  const mean = sum / count;
  for (let k = from; k < to; k++) if (speeds[k]! >= MOVING_MPS) squares += (speeds[k]! - mean) ** 2;
  return Math.sqrt(squares / count) / mean;
}

/** The mean over windows, each with its chord over its path in chords of 15 s. */
function straightnessOf(grid: TimeGrid, from: number, to: number): number {
  const window = Math.min(WINDOW, to - from);
  const links = Math.floor(window / CHORD);
  // Windows begin a chord apart, so that they share most of their chords.
  const chords = new Float64Array(Math.floor((to - from) / CHORD));
  for (let j = 0; j < chords.length; j++) chords[j] = chordM(grid, from + j * CHORD, from + (j + 1) * CHORD);
  let [sum, count] = [0, 0];
  for (let first = 0; from + first * CHORD + window <= to; first++) {
    let path = 0;
    for (let j = first; j < first + links; j++) path += chords[j]!;
    const [a, b] = [from + first * CHORD, from + (first + links) * CHORD];
    const chord = straightM(grid.eastM[b]! - grid.eastM[a]!, grid.northM[b]! - grid.northM[a]!);
    if (!(path > window * GRID_S * MOVING_MPS) || Number.isNaN(chord)) continue;
    sum += chord / path;
    count += 1;
  }
  return count === 0 ? Number.NaN : sum / count;
}

function meanOf(column: Float64Array | null, from: number, to: number): number | null {
  if (column === null) return null;
  let [sum, count] = [0, 0];
  for (let k = from; k < to; k++)
    if (!Number.isNaN(column[k]!)) {
      sum += column[k]!;
      count += 1;
    }
  return count < (to - from) / 2 || count === 0 ? null : sum / count;
}

function shareAbove(column: Float64Array | null, least: number, from: number, to: number): number | null {
  if (column === null) return null;
  let [above, count] = [0, 0];
  for (let k = from; k < to; k++)
    if (!Number.isNaN(column[k]!)) {
      count += 1;
      if (column[k]! >= least) above += 1;
    }
  return count < (to - from) / 2 || count === 0 ? null : above / count;
}
