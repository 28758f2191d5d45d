import type { RideWeek } from './rideWeeks.js';

/** One possible future: the weeks to come in order, null for a week without a ride. */
export interface RidingPath {
  /** On every hour of this path. */
  readonly scale: number;
  next(weekAhead: number): RideWeek | null;
}

/** How a rider may go on riding. `begin` is called once a path, with its number out of how many. */
export interface RidingLaw {
  begin(path: number, paths: number): RidingPath;
}

/** What is left before a limit is reached; null where there is no such limit. */
export interface HoursLeft {
  readonly movingS: number | null;
  readonly terrainMs: number | null;
}

const dayOfPassage = (
  week: RideWeek,
  scale: number,
  movingS: number,
  terrainMs: number,
  left: HoursLeft,
): number => {
  let moving = movingS;
  let terrain = terrainMs;
  for (let day = 0; day < 7; day++) {
    moving += scale * week.dayMovingS[day]!;
    terrain += scale * week.dayTerrainMs[day]!;
    if (left.movingS !== null && moving >= left.movingS) return day + 1;
    if (left.terrainMs !== null && terrain >= left.terrainMs) return day + 1;
  }
  // The days of a week add up to it, but for rounding.
  return 7;
};

const passage = (path: RidingPath, left: HoursLeft, horizonWeeks: number): number => {
  let movingS = 0;
  let terrainMs = 0;
  for (let ahead = 0; ahead < horizonWeeks; ahead++) {
    const week = path.next(ahead);
    if (week === null) continue;
    const moving = movingS + path.scale * week.movingS;
    const terrain = terrainMs + path.scale * week.terrainMs;
    const reached =
      (left.movingS !== null && moving >= left.movingS) ||
      (left.terrainMs !== null && terrain >= left.terrainMs);
    if (reached) return ahead * 7 + dayOfPassage(week, path.scale, movingS, terrainMs, left);
    movingS = moving;
    terrainMs = terrain;
  }
  return Number.POSITIVE_INFINITY;
};

/**
 * Returns after how many days each path first reaches a limit, in rising order; infinite where it does not within the
 * horizon.
 */
export const firstPassages = (
  law: RidingLaw,
  left: HoursLeft,
  paths: number,
  horizonWeeks: number,
): Float64Array => {
  const days = new Float64Array(paths);
  for (let i = 0; i < paths; i++) days[i] = passage(law.begin(i, paths), left, horizonWeeks);
  return days.sort();
};
