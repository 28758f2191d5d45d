/** Stretches that may have been in a vehicle: climbing or going faster, for longer, than a bicycle does. */
import type { Stretch } from '../samples/intervals.js';
import { GRID_S, runsOf, stretchOf, type TimeGrid } from '../samples/timeGrid.js';

const MINUTE = 60 / GRID_S;
/** Road uplift: so much climb over each window. Units: grid cells, metres. */
const UPLIFT_WINDOW = 180 / GRID_S;
const UPLIFT_M = 0.5 * 180;
const CHORD = 15 / GRID_S;
/** The ends of a climb are known to about 30 s each, so ten minutes must be passed by that much. */
const UPLIFT_ASKED = (600 + 60) / GRID_S;
/** Vehicles keep to roads, whose grade makes them this fast at 0.5 m/s upward; a slower, winding or uneven climb is pedalled. */
const UPLIFT_SPEED_MPS = 4;
const STRAIGHT = 0.95;
/** The climb goes on while each minute climbs so. */
const UPLIFT_END_MPS = 0.3;

/** Faster than bicycles go for 30 s. No part of it may be slow, so that a counter catching up is not taken for speed. */
const FAST_MPS = 25;
const FAST_EVERYWHERE_MPS = 22;
const FAST_WINDOW = 30 / GRID_S;
/** A drive goes on, through towns too, while each minute is faster than this. */
const DRIVE_MPS = 7;
const CRAWL_MPS = 4;

/**
 * Returns the stretches to ask about, lifts left aside: all road uplift when it lasts 10 minutes or more in all, and
 * each drive with 30 s above 25 m/s.
 * Units: milliseconds since 1970.
 */
export function vehicleStretches(grids: readonly TimeGrid[], lifts: readonly Stretch[]): Stretch[] {
  const climbs = grids.map((grid) => upliftCells(grid, lifts));
  const cells = climbs.reduce((sum, marks) => sum + marks.reduce((a, b) => a + b, 0), 0);
  return grids.flatMap((grid, at) => {
    const marks = driveCells(grid);
    const climbing = cells >= UPLIFT_ASKED ? climbs[at]! : new Uint8Array(0);
    for (let k = 0; k < climbing.length; k++) if (climbing[k] === 1) marks[k] = 1;
    return runsOf(marks).map(([from, to]) => stretchOf(grid, from, to));
  });
}

function upliftCells(grid: TimeGrid, lifts: readonly Stretch[]): Uint8Array {
  const { zM, count } = grid;
  const cells = new Uint8Array(Math.max(0, count - 1));
  const onLift = liftedCells(grid, lifts);
  for (let k = 0; k + UPLIFT_WINDOW < count; k++) {
    if (zM[k + UPLIFT_WINDOW]! - zM[k]! < UPLIFT_M || Number.isNaN(zM[k + UPLIFT_WINDOW]! - zM[k]!)) continue;
    if (onLift[k + UPLIFT_WINDOW]! > onLift[k]! || isPedalled(grid, k)) continue;
    cells.fill(1, k, k + UPLIFT_WINDOW);
  }
  const climbs = (k: number) => climbNear(grid, k) >= UPLIFT_END_MPS;
  for (const [from, to] of runsOf(cells)) {
    for (let k = from; k < to && !climbs(k); k++) cells[k] = 0;
    for (let k = to - 1; k >= from && !climbs(k); k--) cells[k] = 0;
    if (cells[from] === 1) for (let k = from - 1; k >= 0 && climbs(k); k--) cells[k] = 1;
    if (cells[to - 1] === 1) for (let k = to; k < cells.length && climbs(k); k++) cells[k] = 1;
  }
  return cells;
}

/** m/s upward over the half minute around a cell. */
function climbNear({ zM, count }: TimeGrid, k: number): number {
  const from = Math.max(0, k - 2);
  const to = Math.min(count - 1, k + 3);
  return (zM[to]! - zM[from]!) / ((to - from) * GRID_S);
}

function liftedCells(grid: TimeGrid, lifts: readonly Stretch[]): Int32Array {
  const before = new Int32Array(grid.count);
  for (let k = 1; k < grid.count; k++) {
    const [at] = stretchOf(grid, k, k);
    before[k] = before[k - 1]! + (lifts.some(([from, to]) => at > from && at <= to) ? 1 : 0);
  }
  return before;
}

/** By chords of 15 s, so that a receiver's jitter makes no way; without positions nothing says so. */
function isPedalled({ eastM, northM }: TimeGrid, from: number): boolean {
  const chord = (a: number, b: number) => Math.hypot(eastM[b]! - eastM[a]!, northM[b]! - northM[a]!);
  const to = from + UPLIFT_WINDOW;
  let way = 0;
  for (let k = from; k < to; k += CHORD) way += chord(k, k + CHORD);
  return way < UPLIFT_SPEED_MPS * UPLIFT_WINDOW * GRID_S && chord(from, to) < STRAIGHT * way;
}

function driveCells(grid: TimeGrid): Uint8Array {
  const { wayM, count } = grid;
  const cells = new Uint8Array(Math.max(0, count - 1));
  let steady = 0;
  for (let k = 0; k < cells.length; k++) {
    steady = wayM[k + 1]! - wayM[k]! >= FAST_EVERYWHERE_MPS * GRID_S ? steady + 1 : 0;
    const from = k + 1 - FAST_WINDOW;
    if (steady < FAST_WINDOW) continue;
    if (wayM[k + 1]! - wayM[from]! > FAST_MPS * FAST_WINDOW * GRID_S) cells.fill(1, from, k + 1);
  }
  const drives = (from: number) => wayM[from + MINUTE]! - wayM[from]! >= DRIVE_MPS * MINUTE * GRID_S;
  const crawls = (k: number) => wayM[k + 1]! - wayM[k]! < CRAWL_MPS * GRID_S;
  for (const [from, to] of runsOf(cells)) {
    let first = from;
    let last = to;
    while (first > 0 && drives(first - 1)) first -= 1;
    while (last < cells.length && drives(last + 1 - MINUTE)) last += 1;
    // A minute that begins or ends slow takes some of the ride with it.
    while (first < from && crawls(first)) first += 1;
    while (last > to && crawls(last - 1)) last -= 1;
    cells.fill(1, first, last);
  }
  return cells;
}
