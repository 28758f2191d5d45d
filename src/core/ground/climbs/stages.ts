/** A day's ways up, cut where their character changes. */
import { straightM } from '../samples/ellipsoid.js';
import { GRID_S, type TimeGrid } from '../samples/timeGrid.js';

/** Nodes of a grid, the last one included: what lies between them is the stretch. */
export interface Stage {
  readonly grid: TimeGrid;
  readonly from: number;
  readonly to: number;
}

/** A way up goes on through a dip of so much, and is one from so much on. Units: metres. */
const DIP_M = 10;
const LOWEST_M = 30;
/** Units: grid cells. */
export const CHORD = 15 / GRID_S;
const RATE = 30 / GRID_S;
const SHORTEST = 45 / GRID_S;
/** A further stage must explain so much: a unit is the square of a usual spread. */
const CUT_COST = 18;
const SPEED_SPREAD = 0.25;
const WORK_SPREAD = 1.2;
/** Longer ones are looked at in pieces, so that a day of climbing costs no more than its hours. */
const LONGEST = 1440;

/** Gravity, rolling and air on a bicycle with its rider, for each kilogram of both. Units: W/kg from m/s. */
const GRAVITY = 9.81;
const ROLLING = 0.15;
const AIR = 0.0033;
export const workAt = (upMps: number, mps: number): number =>
  GRAVITY * upMps + ROLLING * mps + AIR * (mps * mps * mps);

/** Metres between two nodes as the crow flies; without positions by the way. */
export function chordM({ eastM, northM, wayM }: TimeGrid, a: number, b: number): number {
  const chord = straightM(eastM[b]! - eastM[a]!, northM[b]! - northM[a]!);
  return Number.isNaN(chord) ? wayM[b]! - wayM[a]! : chord;
}

/** Returns how fast the way goes about a node, in a chord of 15 s that lies between two nodes. Units: m/s. */
export function speedAt(grid: TimeGrid, k: number, low: number, high: number): number {
  const [a, b] = [Math.max(low, k - 1), Math.min(high, k + CHORD - 1)];
  return chordM(grid, a, b) / ((b - a) * GRID_S);
}

/** Returns how fast it rises about a node, over half a minute; NaN where that is not known. Units: m/s. */
export function riseAt({ zM, count }: TimeGrid, k: number): number {
  const [a, b] = [Math.max(0, k - RATE / 2), Math.min(count - 1, k + RATE / 2)];
  return (zM[b]! - zM[a]!) / ((b - a) * GRID_S);
}

/** How a grid goes about each of its nodes. Units: m/s, m/s upward (NaN where unknown), W/kg. */
export interface ClimbPace {
  readonly mps: Float64Array;
  readonly upMps: Float64Array;
  readonly work: Float64Array;
}

/** Every stage of a grid asks again for the same nodes. */
const paces = new WeakMap<TimeGrid, ClimbPace>();

export function paceOf(grid: TimeGrid): ClimbPace {
  const known = paces.get(grid);
  if (known !== undefined) return known;
  const cells = Math.max(0, grid.count - 1);
  const [mps, upMps, work] = [new Float64Array(cells), new Float64Array(cells), new Float64Array(cells)];
  for (let k = 0; k < cells; k++) {
    mps[k] = speedAt(grid, k, 0, cells);
    upMps[k] = riseAt(grid, k);
    work[k] = workAt(upMps[k]!, mps[k]!);
  }
  const pace = { mps, upMps, work };
  paces.set(grid, pace);
  return pace;
}

/** Returns the ways up of a grid, from their lowest to their highest node. */
export function ascentsOf(grid: TimeGrid): Stage[] {
  const { zM, count } = grid;
  const ascents: Stage[] = [];
  let from = -1;
  let top = -1;
  const close = (): void => {
    if (from >= 0 && zM[top]! - zM[from]! >= LOWEST_M) ascents.push({ grid, from, to: top });
  };
  for (let k = 0; k < count; k++) {
    if (Number.isNaN(zM[k]!)) continue;
    if (from < 0 || (zM[k]! <= zM[from]! && top === from)) {
      from = k;
      top = k;
    } else if (zM[k]! > zM[top]!) top = k;
    else if (zM[top]! - zM[k]! > DIP_M) {
      close();
      from = k;
      top = k;
    }
  }
  close();
  return ascents;
}

/** Returns the stages of a way up: the cuts that explain its speeds and its work with the fewest stages. */
export function stagesOf({ grid, from, to }: Stage): Stage[] {
  const stages: Stage[] = [];
  for (let at = from; at < to; at += LONGEST) {
    const end = to - at < 2 * LONGEST ? to : at + LONGEST;
    for (const [a, b] of cutsOf(grid, at, end)) stages.push({ grid, from: a, to: b });
    if (end === to) break;
  }
  return stages;
}

/**
 * What the beginnings of stages are weighed by, a row each, side by side in memory. The first four are sums before it,
 * of speed and of work and of their squares. Then come what the best stages up to it cost, and what a stage from it did
 * when it was last asked.
 */
const ROW = 8;
const [SPEED, SPEED_SQ, WORK, WORK_SQ, BEST, COST] = [0, 1, 2, 3, 4, 5];

function cutsOf(grid: TimeGrid, from: number, to: number): [number, number][] {
  const n = to - from;
  const rows = new Float64Array((n + 1) * ROW);
  const pace = paceOf(grid);
  for (let i = 0; i < n; i++) {
    const k = from + i;
    const isEnd = k === from || k + CHORD - 1 > to;
    const mps = isEnd ? speedAt(grid, k, from, to) : pace.mps[k]!;
    const up = pace.upMps[k]!;
    const isKnown = !isEnd && !Number.isNaN(up);
    const speed = Math.log(0.5 + mps) / SPEED_SPREAD;
    const work = (isKnown ? pace.work[k]! : workAt(Number.isNaN(up) ? 0 : up, mps)) / WORK_SPREAD;
    const row = i * ROW;
    rows[row + ROW + SPEED] = rows[row + SPEED]! + speed;
    rows[row + ROW + SPEED_SQ] = rows[row + SPEED_SQ]! + speed ** 2;
    rows[row + ROW + WORK] = rows[row + WORK]! + work;
    rows[row + ROW + WORK_SQ] = rows[row + WORK_SQ]! + work ** 2;
  }
  const before = cheapest(n, rows);
  const cuts: [number, number][] = [];
  for (let b = n; b > 0; b = before[b]!) cuts.unshift([from + before[b]!, from + b]);
  return cuts;
}

/** Sums as large as these are off by less: a cost is no further from what it should be. */
const ROUNDING = 1e-6;
/** So many shelves at most hold beginnings by what they cost. */
const MOST_SHELVES = 4096;

/**
 * Returns for each cell where the last stage up to it begins; of equal ones the first. It would look at every pair of a
 * long way's cells, so it is written without objects or calls. A stage that grows costs no less than before: what was
 * dearer than the best, when it was last asked, stays on its shelf until the best has caught up with it.
 */
function cheapest(n: number, rows: Float64Array): Int32Array {
  const before = new Int32Array(n + 1);
  // One stage from end to end costs no less than the best, so what costs more is never asked again.
  const top = rows[n * ROW + SPEED_SQ]! + rows[n * ROW + WORK_SQ]! + CUT_COST + 1;
  const shelvesPer = 1 / Math.max(1, top / MOST_SHELVES);
  const shelves = new Int32Array(Math.floor(top * shelvesPer) + 2).fill(-1);
  /** The next beginning on the same shelf, -1 after the last. */
  const next = new Int32Array(n + 1);
  const first = Math.min(n, SHORTEST);
  for (let b = 1; b < first; b++) rows[b * ROW + BEST] = Number.POSITIVE_INFINITY;
  for (let b = first; b <= n; b++) {
    const end = b * ROW;
    const [v, vv] = [rows[end + SPEED]!, rows[end + SPEED_SQ]!];
    const [w, ww] = [rows[end + WORK]!, rows[end + WORK_SQ]!];
    let least = Number.POSITIVE_INFINITY;
    let from = n;
    // The new beginning comes first, then the shelves from the best of the cell before up to the best of this one.
    let shelf = b > SHORTEST ? Math.floor(rows[end - ROW + BEST]! * shelvesPer) : 0;
    let a = Math.max(0, b - SHORTEST);
    next[a] = -1;
    for (;;) {
      while (a >= 0) {
        const after = next[a]!;
        const row = a * ROW;
        let cost = rows[row + COST]!;
        if (cost <= least + ROUNDING) {
          const cells = Math.max(1, b - a);
          const dv = v - rows[row + SPEED]!;
          const dw = w - rows[row + WORK]!;
          const spread =
            vv - rows[row + SPEED_SQ]! - (dv * dv) / cells + ww - rows[row + WORK_SQ]! - (dw * dw) / cells;
          cost = rows[row + BEST]! + spread + CUT_COST;
          rows[row + COST] = cost;
          if (cost < least || (cost === least && a < from)) {
            least = cost;
            from = a;
          }
        }
        if (cost <= top) {
          const own = Math.floor(cost * shelvesPer);
          next[a] = shelves[own]!;
          shelves[own] = a;
        }
        a = after;
      }
      if (shelf >= shelves.length || shelf > (least + ROUNDING) * shelvesPer) break;
      a = shelves[shelf]!;
      shelves[shelf++] = -1;
    }
    rows[end + BEST] = least;
    before[b] = from;
  }
  return before;
}
