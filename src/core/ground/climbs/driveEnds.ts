/** Where a drive begins and ends: whoever is driven up gets on and off at a halt. */
import { GRID_S, type TimeGrid } from '../samples/timeGrid.js';
import { chordM } from './stages.js';

/** Slower than this for one cell is a halt; a resting receiver wanders less. */
const HALT_MPS = 0.8;
/** Before its lowest point and after its highest a vehicle drives for so long at most, and falls no further. Units: metres. */
const ROAD_CELLS = 300 / GRID_S;
const ROAD_M = 25;
/** What is rolled to a halt after the lowest point, or from one before the highest, is ridden, and no longer than this. */
const ROLL_CELLS = 120 / GRID_S;
/** Flat is what rises or falls no further. Units: metres. */
const FLAT_M = 8;

export type WayEnds = readonly [from: number, to: number];

/** Returns the nodes of a drive between its halts, within bounds; null for an end near which no halt is. */
export function driveEnds(
  grid: TimeGrid,
  [from, to]: WayEnds,
  [low, high]: WayEnds,
): readonly [from: number | null, to: number | null] {
  const halts = (k: number): boolean => chordM(grid, k, k + 1) < HALT_MPS * GRID_S;
  const isWithin = (metres: number, a: number, b: number): boolean =>
    Math.abs(grid.zM[b]! - grid.zM[a]!) <= metres;
  const start = (): number | null => {
    const last = Math.min(from + ROLL_CELLS, Math.floor((from + to) / 2));
    for (let k = last; k >= from; k--) if (halts(k) && isWithin(FLAT_M, from, k)) return k + 1;
    const first = Math.max(low, from - ROAD_CELLS);
    for (let k = from - 1; k >= first && isWithin(ROAD_M, k, from); k--) if (halts(k)) return k + 1;
    return from === low ? from : null;
  };
  const end = (): number | null => {
    const first = Math.max(to - ROLL_CELLS, Math.ceil((from + to) / 2));
    for (let k = first; k < to; k++) if (halts(k) && isWithin(FLAT_M, k, to)) return k;
    const last = Math.min(high, to + ROAD_CELLS);
    for (let k = to; k < last && isWithin(ROAD_M, to, k + 1); k++) if (halts(k)) return k;
    return to === high ? to : null;
  };
  return [start(), end()];
}
