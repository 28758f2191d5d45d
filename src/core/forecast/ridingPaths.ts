import type { RideWeek } from './rideWeeks.js';

/** One possible future: the weeks to come in order, null for a week without a ride. */
export interface RidingPath {
  /** On every hour of this path. */
  readonly scale: number;
  next(weekAhead: number): RideWeek | null;
}

/** How a rider may go on riding. `begin` is called once a path, with its number out of how many. */
export interface RidingLaw {
  /** On every hour, by week ahead; it begins again after the last. */
  readonly season: Float64Array;
  begin(path: number, paths: number): RidingPath;
}

/** What is left before a limit is reached; null where there is no such limit. */
export interface HoursLeft {
  readonly movingS: number | null;
  readonly terrainMs: number | null;
}

interface Amounts {
  readonly movingS: number;
  readonly terrainMs: number;
}

/** Drawn once, and read off for any limit: with more hours left no path can end earlier. */
export interface RidingPaths {
  /**
   * Returns after how many days each path first reaches a limit, in rising order; infinite where it does not within the
   * horizon.
   */
  firstPassages(left: HoursLeft): Float64Array;
  /** Returns the mean over the paths of what is ridden in the first days. */
  meanOfDays(days: number): Amounts;
}

interface Drawn {
  readonly path: RidingPath;
  readonly weeks: (RideWeek | null)[];
}

const NONE = Number.POSITIVE_INFINITY;

/** Which day of a week reaches a limit, from 1; of so much ridden before it. */
const dayOfPassage = (week: RideWeek, scale: number, before: Amounts, left: HoursLeft): number => {
  let { movingS, terrainMs } = before;
  for (let day = 0; day < 7; day++) {
    movingS += scale * week.dayMovingS[day]!;
    terrainMs += scale * week.dayTerrainMs[day]!;
    if (movingS >= (left.movingS ?? NONE) || terrainMs >= (left.terrainMs ?? NONE)) return day + 1;
  }
  // The days of a week add up to it, but for rounding.
  return 7;
};

/** Returns so many paths under a law. A path is drawn as far as it is asked for. */
export const drawPaths = (law: RidingLaw, count: number, horizonWeeks: number): RidingPaths => {
  const paths = Array.from({ length: count }, (_, i): Drawn => ({ path: law.begin(i, count), weeks: [] }));
  const { season } = law;
  const weekOf = ({ path, weeks }: Drawn, ahead: number): RideWeek | null => {
    if (ahead === weeks.length) weeks.push(path.next(ahead));
    return weeks[ahead]!;
  };
  const passage = (drawn: Drawn, left: HoursLeft): number => {
    const movingLimit = left.movingS ?? NONE;
    const terrainLimit = left.terrainMs ?? NONE;
    let movingS = 0;
    let terrainMs = 0;
    for (let ahead = 0; ahead < horizonWeeks; ahead++) {
      const week = weekOf(drawn, ahead);
      if (week === null) continue;
      const scale = drawn.path.scale * season[ahead % season.length]!;
      const moving = movingS + scale * week.movingS;
      const terrain = terrainMs + scale * week.terrainMs;
      if (moving >= movingLimit || terrain >= terrainLimit)
        return ahead * 7 + dayOfPassage(week, scale, { movingS, terrainMs }, left);
      movingS = moving;
      terrainMs = terrain;
    }
    return NONE;
  };
  const ofDays = (drawn: Drawn, days: number): Amounts => {
    let movingS = 0;
    let terrainMs = 0;
    for (let day = 0; day < days; day++) {
      const ahead = Math.floor(day / 7);
      const week = weekOf(drawn, ahead);
      const scale = drawn.path.scale * season[ahead % season.length]!;
      movingS += scale * (week?.dayMovingS[day % 7] ?? 0);
      terrainMs += scale * (week?.dayTerrainMs[day % 7] ?? 0);
    }
    return { movingS, terrainMs };
  };
  return {
    firstPassages: (left) => Float64Array.from(paths, (drawn) => passage(drawn, left)).sort(),
    meanOfDays: (days) => {
      let movingS = 0;
      let terrainMs = 0;
      for (const drawn of paths) {
        const amounts = ofDays(drawn, days);
        movingS += amounts.movingS / count;
        terrainMs += amounts.terrainMs / count;
      }
      return { movingS, terrainMs };
    },
  };
};
