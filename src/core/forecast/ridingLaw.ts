import { HOUR_MS, secondsIn } from '../../units.js';
import { normalQuantile } from '../chance/normalQuantile.js';
import { seededRandoms } from '../chance/seededRandom.js';
import type { RideWeek } from './rideWeeks.js';
import { HABITS, type RidingHabits } from './ridingHabits.js';
import type { RidingLaw } from './ridingPaths.js';
import { isRidden, logOdds, type RiderWeeks, shareOf, type UsualYear, usualYear, YEAR } from './usualYear.js';

/** Weeks that still say what a rider does lately. */
const WEEKS_OF_LATELY = 24;

const fading = (halfLifeWeeks: number): number => 1 - 2 ** (-1 / halfLifeWeeks);

const scaled = (week: RideWeek, by: number): RideWeek => ({
  movingS: week.movingS * by,
  terrainMs: week.terrainMs * by,
  dayMovingS: week.dayMovingS.map((s) => s * by),
  dayTerrainMs: week.dayTerrainMs.map((ms) => ms * by),
});

const otherRidersWeeks = (terrainMsPerMovingS: number, weekHours: readonly number[]): readonly RideWeek[] =>
  weekHours.map((hours, i) => {
    const movingS = secondsIn(hours * HOUR_MS);
    const onOneDay = (amount: number): number[] =>
      Array.from({ length: 7 }, (_, d) => (d === i % 7 ? amount : 0));
    const terrainMs = movingS * terrainMsPerMovingS;
    return { movingS, terrainMs, dayMovingS: onOneDay(movingS), dayTerrainMs: onOneDay(terrainMs) };
  });

/** Ride weeks to draw from, the season taken out: the last year's own, and other riders' on this rider's ground. */
function poolsOf(weeks: readonly RideWeek[], season: Float64Array, { weekHours }: RidingHabits) {
  const own = weeks
    .slice(0, YEAR)
    // A week so long ago is so many weeks ahead a year later.
    .flatMap((week, ago) => (isRidden(week) ? [scaled(week, 1 / season[YEAR - 1 - ago]!)] : []));
  const movingS = own.reduce((sum, week) => sum + week.movingS, 0);
  const terrainMs = own.reduce((sum, week) => sum + week.terrainMs, 0);
  return { own, others: otherRidersWeeks(movingS > 0 ? terrainMs / movingS : 1000, weekHours) };
}

/** Quantiles of a standard normal at as many even shares; the same for every bike. */
let lastNormals = new Float64Array(0);
const evenNormals = (count: number): Float64Array => {
  if (lastNormals.length !== count)
    lastNormals = Float64Array.from({ length: count }, (_, i) => normalQuantile((i + 0.5) / count));
  return lastNormals;
};

/** What the latest weeks held beyond what is usual at their time of the year; those before count less and less. */
const latelyBeyond = (weeks: readonly RideWeek[], usual: UsualYear, fade: number): number =>
  weeks
    .slice(0, WEEKS_OF_LATELY)
    .reduceRight(
      (beyond, week, ago) => beyond + fade * (Number(isRidden(week)) - usual.shareAt(-1 - ago) - beyond),
      0,
    );

/**
 * Returns how a rider may go on. Whether a week holds a ride depends on three things: what is usual for this rider at
 * that time of the year; what lately was beyond that; the path's own change. What sets a rider apart fades in the far
 * future. A ride week is like one of the rider's own of the past year or, where few are known, like another rider's.
 * The season makes it longer or shorter.
 */
export const ridingLaw = (of: RiderWeeks, seed: string, habits: RidingHabits = HABITS): RidingLaw => {
  const { weeks } = of;
  const usual = usualYear(of, habits);
  const shares = Float64Array.from({ length: YEAR }, (_, week) => usual.shareAt(week));
  const others = Float64Array.from({ length: YEAR }, (_, week) => logOdds(usual.othersAt(week)));
  const apart = shares.map((share, week) => logOdds(share) - others[week]!);
  const fade = fading(habits.latelyHalfLife);
  const latelyNow = latelyBeyond(weeks, usual, fade);
  const weekBeforeNow = weeks.length === 0 ? 0 : Number(isRidden(weeks[0]!)) - usual.shareAt(-1);
  const season = Float64Array.from({ length: YEAR }, (_, week) => usual.hoursAt(week));
  const pools = poolsOf(weeks, season, habits);
  const shareOfOwn = pools.own.length / (pools.own.length + habits.weekHoursWorth);
  const unknown = habits.rideShareWorth / (habits.rideShareWorth + usual.weeksKnown);
  const spread = Math.hypot(habits.change, habits.between * Math.sqrt(unknown));
  const randoms = seededRandoms(seed);
  const keep = 2 ** (-1 / habits.apartHalfLife);
  return {
    season,
    begin: (path, paths) => {
      const normals = evenNormals(paths);
      // A sequence of its own for each path: what one path takes changes no other.
      const random = randoms(path);
      // Spread evenly over the paths, so that few paths show the whole range.
      const change = spread * normals[path]!;
      const scale = Math.exp(habits.hoursChange * normals[Math.floor(random() * paths)]!);
      const pool = random() < shareOfOwn ? pools.own : pools.others;
      let weekBefore = weekBeforeNow;
      let lately = latelyNow;
      let apartness = 1;
      return {
        scale,
        next: (ahead) => {
          const week = ahead % YEAR;
          const odds =
            others[week]! +
            apartness * (apart[week]! + change) +
            habits.weekBefore * weekBefore +
            habits.lately * lately;
          const isRide = random() < shareOf(odds);
          weekBefore = Number(isRide) - shares[week]!;
          lately += fade * (weekBefore - lately);
          apartness *= keep;
          return isRide ? pool[Math.floor(random() * pool.length)]! : null;
        },
      };
    },
  };
};
