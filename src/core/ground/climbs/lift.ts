/** Lifts: straight, steady and faster upward than anybody pedals so straight. */
import type { Stretch } from '../samples/intervals.js';
import { GRID_S, runsOf, stretchOf, type TimeGrid } from '../samples/timeGrid.js';

/** A window of 90 s in chords of 15 s, so that a receiver's jitter makes no way. Units: grid cells. */
const WINDOW = 90 / GRID_S;
const CHORD = 15 / GRID_S;

/** What a window must show. Units: m/s upward; chord over path; standard deviation over mean of the speeds. */
interface Bounds {
  readonly climbMps: number;
  readonly straightness: number;
  readonly unsteadiness: number;
}
const SURE: Bounds = { climbMps: 0.5, straightness: 0.98, unsteadiness: 0.1 };
const NEIGHBOUR: Bounds = { climbMps: 0.4, straightness: 0.95, unsteadiness: 0.25 };
/** At the ends of a stretch, cells that do not climb like the rest belong to the queue or the ride. */
const END_CLIMB_SHARE = 0.4;
const END_SPEED_RATIO = 2;

/** What a window of a grid looks like; NaN throughout where it is not known. */
interface WindowShape {
  readonly climbMps: number;
  readonly straightness: number;
  readonly unsteadiness: number;
}

/**
 * Returns the stretches ridden on a lift: windows of 90 s within the strict bounds, extended over neighbouring windows
 * within the wider ones. Without positions or elevation none is found.
 * Units: milliseconds since 1970.
 */
export function liftStretches(grids: readonly TimeGrid[]): Stretch[] {
  return grids.flatMap((grid) => {
    const cells = liftCells(grid);
    return runsOf(cells)
      .map(([from, to]) => trimmed(grid, from, to))
      .filter(([from, to]) => to - from >= WINDOW)
      .map(([from, to]) => stretchOf(grid, from, to));
  });
}

function liftCells(grid: TimeGrid): Uint8Array {
  const windows = Math.max(0, grid.count - WINDOW);
  const cells = new Uint8Array(Math.max(0, grid.count - 1));
  const wide = new Uint8Array(windows);
  for (let k = 0; k < windows; k++) {
    const shape = shapeOf(grid, k);
    if (isWithin(shape, NEIGHBOUR)) wide[k] = 1;
    if (isWithin(shape, SURE)) cells.fill(1, k, k + WINDOW);
  }
  extend(cells, wide);
  return cells;
}

/** A wide window that touches a stretch joins it; those before it may then touch in their turn. */
function extend(cells: Uint8Array, wide: Uint8Array): void {
  const joins = (k: number) => {
    const touches =
      cells[k] === 1 || cells[k - 1] === 1 || cells[k + WINDOW] === 1 || cells[k + WINDOW - 1] === 1;
    if (wide[k] === 1 && touches) cells.fill(1, k, k + WINDOW);
  };
  for (let k = 0; k < wide.length; k++) joins(k);
  for (let k = wide.length - 1; k >= 0; k--) joins(k);
}

function shapeOf({ eastM, northM, zM }: TimeGrid, from: number): WindowShape {
  const last = from + WINDOW;
  let path = 0;
  let squares = 0;
  for (let k = from; k < last; k += CHORD) {
    const chord = Math.hypot(eastM[k + CHORD]! - eastM[k]!, northM[k + CHORD]! - northM[k]!);
    path += chord;
    squares += chord * chord;
  }
  const chords = WINDOW / CHORD;
  const mean = path / chords;
  return {
    climbMps: (zM[last]! - zM[from]!) / (WINDOW * GRID_S),
    straightness: Math.hypot(eastM[last]! - eastM[from]!, northM[last]! - northM[from]!) / path,
    unsteadiness: Math.sqrt(Math.max(0, squares / chords - mean * mean)) / mean,
  };
}

const isWithin = (shape: WindowShape, bounds: Bounds): boolean =>
  shape.climbMps >= bounds.climbMps &&
  shape.straightness >= bounds.straightness &&
  shape.unsteadiness <= bounds.unsteadiness;

function trimmed(grid: TimeGrid, from: number, to: number): [number, number] {
  const { zM, eastM, northM } = grid;
  const climb = (zM[to]! - zM[from]!) / (to - from);
  const way = (k: number) => Math.hypot(eastM[k + 1]! - eastM[k]!, northM[k + 1]! - northM[k]!);
  let sum = 0;
  for (let k = from; k < to; k++) sum += way(k);
  const speed = sum / (to - from);
  const belongs = (k: number) =>
    zM[k + 1]! - zM[k]! >= END_CLIMB_SHARE * climb &&
    way(k) <= END_SPEED_RATIO * speed &&
    way(k) >= speed / END_SPEED_RATIO;
  let first = from;
  let last = to;
  while (first < last && !belongs(first)) first += 1;
  while (last > first && !belongs(last - 1)) last -= 1;
  return [first, last];
}
