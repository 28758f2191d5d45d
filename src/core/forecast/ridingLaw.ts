import { HOUR_MS, SECOND_MS } from '../../units.js';
import { normalQuantile } from '../chance/normalQuantile.js';
import { seededRandom } from '../chance/seededRandom.js';
import type { RidingLaw } from './firstPassage.js';
import type { RideWeek } from './rideWeeks.js';
import { HABITS } from './ridingHabits.js';

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

/**
 * Returns how a rider may go on. Whether a week holds a ride depends on the week before, the rider's share of ride
 * weeks lately and in the long run, and last year's season; a ride week is like one of the rider's own of the past year
 * or, where few are known, like another rider's; and each path has a level of its own.
 * Shape: `weeks` as `rideWeeks` returns them, the latest first.
 */
export const ridingLaw = (weeks: readonly RideWeek[], seed: string): RidingLaw => {
  const latelyNow = fadedShare(weeks, LATELY);
  const longRunNow = fadedShare(weeks, LONG_RUN);
  const season = seasonOdds(weeks);
  const { own, others } = pools(weeks);
  const shareOfOwn = own.length / (own.length + HABITS.weekHoursWorth);
  const fall = HABITS.fall * (1 + HABITS.newcomer * Math.max(0, 1 - weeks.length / YEAR));
  return {
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
