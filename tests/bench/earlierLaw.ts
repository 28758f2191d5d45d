/**
 * The forecast as it was before it knew the season in hours and pooled a rider's own habits: a yardstick for the bench.
 * Every unit and service kind draws paths of its own here.
 */
import { normalQuantile } from '../../src/core/chance/normalQuantile.js';
import { seededRandom } from '../../src/core/chance/seededRandom.js';
import type { RideHours } from '../../src/core/forecast/forecast.js';
import { type RideWeek, rideWeeks } from '../../src/core/forecast/rideWeeks.js';
import { drawPaths, type HoursLeft, type RidingLaw } from '../../src/core/forecast/ridingPaths.js';
import { type Day, HOUR_MS, SECOND_MS } from '../../src/units.js';

const HABITS = {
  base: -2.0,
  weekBefore: 0.8,
  lately: 3.0,
  longRun: 0.5,
  season: 1.15,
  latelyHalfLife: 3,
  longRunHalfLife: 40,
  rideShare: 0.4,
  weekHours: [0.57, 1.11, 1.64, 2.21, 2.86, 3.54, 4.49, 5.56, 7.36, 11.54],
  weekHoursWorth: 3,
  rise: 0.4,
  fall: 0.75,
  newcomer: 0.5,
} as const;

const YEAR = 52;
/** A season is looked at with this many weeks on either side. */
const SEASON_REACH = 3;
/** Of the season before last, which riders resemble less. */
const OLDER_SEASON_WEIGHT = 0.5;

const fading = (halfLifeWeeks: number): number => 1 - 2 ** (-1 / halfLifeWeeks);
const LATELY = fading(HABITS.latelyHalfLife);
const LONG_RUN = fading(HABITS.longRunHalfLife);

const isRidden = (week: RideWeek | undefined): boolean => week !== undefined && week.movingS > 0;

const fadedShare = (weeks: readonly RideWeek[], fade: number): number =>
  weeks.reduceRight<number>(
    (share, week) => share + fade * (Number(isRidden(week)) - share),
    HABITS.rideShare,
  );

const shareRidden = (weeks: readonly RideWeek[]): number =>
  weeks.length === 0 ? 0 : weeks.filter(isRidden).length / weeks.length;

/** Log-odds added to each of the next 52 weeks by the same weeks of past years; zeros without a whole year. */
const seasonOdds = (weeks: readonly RideWeek[]): readonly number[] => {
  const usual = shareRidden(weeks.slice(0, YEAR));
  return Array.from({ length: YEAR }, (_, ahead) => {
    if (weeks.length <= YEAR) return 0;
    let ridden = 0;
    let seen = 0;
    for (
      let ago = YEAR - 1 - ahead, weight = 1;
      ago < weeks.length;
      ago += YEAR, weight *= OLDER_SEASON_WEIGHT
    ) {
      for (
        let w = Math.max(0, ago - SEASON_REACH);
        w <= Math.min(weeks.length - 1, ago + SEASON_REACH);
        w++
      ) {
        seen += weight;
        if (isRidden(weeks[w])) ridden += weight;
      }
    }
    return HABITS.season * (ridden / seen - usual);
  });
};

const otherRidersWeeks = (terrainMsPerMovingS: number): readonly RideWeek[] =>
  HABITS.weekHours.map((hours, i) => {
    const movingS = (hours * HOUR_MS) / SECOND_MS;
    const onOneDay = (amount: number): number[] =>
      Array.from({ length: 7 }, (_, d) => (d === i % 7 ? amount : 0));
    const terrainMs = movingS * terrainMsPerMovingS;
    return { movingS, terrainMs, dayMovingS: onOneDay(movingS), dayTerrainMs: onOneDay(terrainMs) };
  });

/** Ride weeks that a path draws from: the last year's own, or other riders' in as many paths as few are known. */
const pools = (weeks: readonly RideWeek[]): { own: readonly RideWeek[]; others: readonly RideWeek[] } => {
  const own = weeks.slice(0, YEAR).filter(isRidden);
  const movingS = own.reduce((sum, week) => sum + week.movingS, 0);
  const terrainMs = own.reduce((sum, week) => sum + week.terrainMs, 0);
  return { own, others: otherRidersWeeks(movingS > 0 ? terrainMs / movingS : 1000) };
};

/** The path's level over the past one; spread evenly over the paths, so that few paths show the whole range. */
const levelOf = (path: number, paths: number, fall: number): number => {
  const z = normalQuantile((path + 0.5) / paths);
  return Math.exp(z * (z < 0 ? fall : HABITS.rise));
};

const earlierLaw = (weeks: readonly RideWeek[], seed: string): RidingLaw => {
  const latelyNow = fadedShare(weeks, LATELY);
  const longRunNow = fadedShare(weeks, LONG_RUN);
  const season = seasonOdds(weeks);
  const { own, others } = pools(weeks);
  const shareOfOwn = own.length / (own.length + HABITS.weekHoursWorth);
  const fall = HABITS.fall * (1 + HABITS.newcomer * Math.max(0, 1 - weeks.length / YEAR));
  return {
    season: Float64Array.of(1),
    begin: (path, paths) => {
      // A sequence of its own for each path: with more hours left, no path can end earlier.
      const random = seededRandom(`${seed} ${path}`);
      let ridden = Number(isRidden(weeks[0]));
      let lately = latelyNow;
      let longRun = longRunNow;
      const pool = random() < shareOfOwn ? own : others;
      return {
        scale: levelOf(path, paths, fall),
        next: (ahead) => {
          const logOdds =
            HABITS.base +
            HABITS.weekBefore * ridden +
            HABITS.lately * lately +
            HABITS.longRun * longRun +
            season[ahead % YEAR]!;
          ridden = random() < 1 / (1 + Math.exp(-logOdds)) ? 1 : 0;
          lately += LATELY * (ridden - lately);
          longRun += LONG_RUN * (ridden - longRun);
          return ridden === 1 ? pool[Math.floor(random() * pool.length)]! : null;
        },
      };
    },
  };
};

const HORIZON_WEEKS = 260;
const PATHS = 300;
const WEEKS_LOOKED_BACK = 104;

/** Returns after how many days each of 300 paths reaches a limit, in rising order. */
export const earlierPassages = (
  rides: readonly RideHours[],
  today: Day,
  left: HoursLeft,
  seed: string,
): Float64Array =>
  drawPaths(earlierLaw(rideWeeks(rides, today, WEEKS_LOOKED_BACK), seed), PATHS, HORIZON_WEEKS).firstPassages(
    left,
  );
