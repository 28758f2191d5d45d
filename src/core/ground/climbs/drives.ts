/** Drives: faster over the ground, for longer, than bicycles go. A way down stays a ride, whatever its speed. */
import type { Stretch } from '../samples/intervals.js';
import { GRID_S, runsOf, stretchOf, type TimeGrid } from '../samples/timeGrid.js';

const MINUTE = 60 / GRID_S;
/** Faster than bicycles go for 30 s. No part of it may be slow, so that a counter catching up is not taken for speed. */
const FAST_MPS = 25;
const FAST_EVERYWHERE_MPS = 22;
const FAST_WINDOW = 30 / GRID_S;
/** A drive goes on, through towns too, while each minute is faster than this. */
const DRIVE_MPS = 7;
const CRAWL_MPS = 4;
/** Steeper down than this, gravity alone makes such speeds. */
const DOWNHILL = -0.03;

/** Returns the stretches to ask about: each drive with 30 s above 25 m/s that did not fall. Units: milliseconds since 1970. */
export function driveStretches(grids: readonly TimeGrid[]): Stretch[] {
  return grids.flatMap((grid) => runsOf(driveCells(grid)).map(([from, to]) => stretchOf(grid, from, to)));
}

/** Whether the ground falls between two nodes; without elevation nothing says so. */
const falls = ({ zM, wayM }: TimeGrid, from: number, to: number): boolean =>
  zM[to]! - zM[from]! < DOWNHILL * (wayM[to]! - wayM[from]!);

function driveCells(grid: TimeGrid): Uint8Array {
  const { wayM, count } = grid;
  const cells = new Uint8Array(Math.max(0, count - 1));
  let steady = 0;
  for (let k = 0; k < cells.length; k++) {
    steady = wayM[k + 1]! - wayM[k]! >= FAST_EVERYWHERE_MPS * GRID_S ? steady + 1 : 0;
    const from = k + 1 - FAST_WINDOW;
    if (steady < FAST_WINDOW) continue;
    const isFast = wayM[k + 1]! - wayM[from]! > FAST_MPS * FAST_WINDOW * GRID_S;
    if (isFast && !falls(grid, from, k + 1)) cells.fill(1, from, k + 1);
  }
  const drives = (from: number) =>
    wayM[from + MINUTE]! - wayM[from]! >= DRIVE_MPS * MINUTE * GRID_S && !falls(grid, from, from + MINUTE);
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
