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

/**
 * Paths drawn as far as they were asked for. Sums up to and with each week stand in one piece of memory. So a limit is
 * found by halving, and little is left to be cleared away.
 */
class DrawnPaths implements RidingPaths {
  readonly #season: Float64Array;
  readonly #horizon: number;
  readonly #paths: readonly RidingPath[];
  readonly #weeks: readonly (RideWeek | null)[][];
  readonly #movingS: Float64Array;
  readonly #terrainMs: Float64Array;

  constructor(law: RidingLaw, count: number, horizonWeeks: number) {
    this.#season = law.season;
    this.#horizon = horizonWeeks;
    this.#paths = Array.from({ length: count }, (_, i) => law.begin(i, count));
    this.#weeks = this.#paths.map(() => []);
    this.#movingS = new Float64Array(count * horizonWeeks);
    this.#terrainMs = new Float64Array(count * horizonWeeks);
  }

  #scaleOf(path: number, ahead: number): number {
    return this.#paths[path]!.scale * this.#season[ahead % this.#season.length]!;
  }

  #upTo(path: number, ahead: number): Amounts {
    if (ahead < 0) return { movingS: 0, terrainMs: 0 };
    const place = path * this.#horizon + ahead;
    return { movingS: this.#movingS[place]!, terrainMs: this.#terrainMs[place]! };
  }

  /** Draws on until a week reaches a limit or the horizon; returns how many weeks there are. */
  #drawUntil(path: number, movingLimit: number, terrainLimit: number, most: number): number {
    const weeks = this.#weeks[path]!;
    const { scale: level, next } = this.#paths[path]!;
    const from = path * this.#horizon;
    const last = from + weeks.length - 1;
    let movingS = weeks.length === 0 ? 0 : this.#movingS[last]!;
    let terrainMs = weeks.length === 0 ? 0 : this.#terrainMs[last]!;
    while (weeks.length < most && movingS < movingLimit && terrainMs < terrainLimit) {
      const ahead = weeks.length;
      const week = next(ahead);
      weeks.push(week);
      if (week !== null) {
        const scale = level * this.#season[ahead % this.#season.length]!;
        movingS += scale * week.movingS;
        terrainMs += scale * week.terrainMs;
      }
      this.#movingS[from + ahead] = movingS;
      this.#terrainMs[from + ahead] = terrainMs;
    }
    return weeks.length;
  }

  #passage(path: number, left: HoursLeft): number {
    const [movingLimit, terrainLimit] = [left.movingS ?? NONE, left.terrainMs ?? NONE];
    const from = path * this.#horizon;
    let high = this.#drawUntil(path, movingLimit, terrainLimit, this.#horizon);
    const isReached = (ahead: number): boolean =>
      this.#movingS[from + ahead]! >= movingLimit || this.#terrainMs[from + ahead]! >= terrainLimit;
    if (high === 0 || !isReached(high - 1)) return NONE;
    let low = 0;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (isReached(middle)) high = middle;
      else low = middle + 1;
    }
    const before = this.#upTo(path, low - 1);
    return low * 7 + dayOfPassage(this.#weeks[path]![low]!, this.#scaleOf(path, low), before, left);
  }

  firstPassages(left: HoursLeft): Float64Array {
    return Float64Array.from(this.#paths, (_, path) => this.#passage(path, left)).sort();
  }

  #ofDays(path: number, days: number): Amounts {
    const whole = Math.floor(days / 7);
    this.#drawUntil(path, NONE, NONE, whole + 1);
    let { movingS, terrainMs } = this.#upTo(path, whole - 1);
    const week = this.#weeks[path]![whole]!;
    for (let day = 0; week !== null && day < days % 7; day++) {
      movingS += this.#scaleOf(path, whole) * week.dayMovingS[day]!;
      terrainMs += this.#scaleOf(path, whole) * week.dayTerrainMs[day]!;
    }
    return { movingS, terrainMs };
  }

  meanOfDays(days: number): Amounts {
    let movingS = 0;
    let terrainMs = 0;
    for (const path of days === 0 ? [] : this.#paths.keys()) {
      const amounts = this.#ofDays(path, days);
      movingS += amounts.movingS / this.#paths.length;
      terrainMs += amounts.terrainMs / this.#paths.length;
    }
    return { movingS, terrainMs };
  }
}

/** Returns so many paths under a law. A path is drawn as far as it is asked for. */
export const drawPaths = (law: RidingLaw, count: number, horizonWeeks: number): RidingPaths =>
  new DrawnPaths(law, count, horizonWeeks);
