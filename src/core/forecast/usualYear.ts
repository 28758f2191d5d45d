import type { Hemisphere } from './hemisphere.js';
import type { RideWeek } from './rideWeeks.js';
import type { RidingHabits } from './ridingHabits.js';

export const YEAR = 52;
const DAYS_A_YEAR = 365.2425;
/** A week of a past year speaks for the weeks around it too, the less the further off. */
const SEASON_REACH = 4;
/** Of each season further back, which riders resemble less. */
const OLDER_SEASON = 0.7;
/** No rider is certain to ride in a week, nor certain to rest. */
const LEAST_SHARE = 0.015;
const NEWTON_STEPS = 6;

/** What a rider usually does, by week from the day after the last known one; past weeks are −1, −2, …. */
export interface UsualYear {
  /** Share of ride weeks at this time of the year: the rider's own, pooled with what others do. */
  shareAt(week: number): number;
  /** The same of a rider of whom nothing is known. */
  othersAt(week: number): number;
  /** Hours of a ride week at this time of the year over those of a usual ride week. */
  hoursAt(week: number): number;
  /** How many weeks are known, those long ago counting less. */
  readonly weeksKnown: number;
}

export interface RiderWeeks {
  /** The latest first, as `rideWeeks` returns them. */
  readonly weeks: readonly RideWeek[];
  /** The day that the latest ends on. Units: a count of days since 1970-01-01. */
  readonly lastDay: number;
  readonly hemisphere: Hemisphere;
}

export const isRidden = (week: RideWeek): boolean => week.movingS > 0;
export const logOdds = (share: number): number => Math.log(share / (1 - share));
export const shareOf = (odds: number): number => 1 / (1 + Math.exp(-odds));

/**
 * Returns the log-odds of a ride week that suit the rider best, the season apart: the fading weeks known, and as many
 * more as `rideShareWorth` at other riders' share. Shape: by weeks ago.
 */
function ownOdds(ridden: readonly number[], season: Float64Array, habits: RidingHabits): number {
  const { rideShare, rideShareWorth } = habits;
  const fade = 2 ** (-1 / habits.longRunHalfLife);
  let odds = logOdds(rideShare);
  for (let step = 0; step < NEWTON_STEPS; step++) {
    const prior = shareOf(odds);
    let slope = rideShareWorth * (rideShare - prior);
    let curve = rideShareWorth * prior * (1 - prior);
    let weight = 1;
    for (let ago = 0; ago < ridden.length; ago++, weight *= fade) {
      const share = shareOf(odds + season[ago]!);
      slope += weight * (ridden[ago]! - share);
      curve += weight * share * (1 - share);
    }
    odds += Math.max(-1, Math.min(1, slope / curve));
  }
  return odds;
}

/** Sums over the weeks at the same time of past years, the nearest weighing most. */
function overSeasons(week: number, known: number, add: (ago: number, weight: number) => void): void {
  let ofYear = 1;
  for (let year = 1; ; year++, ofYear *= OLDER_SEASON) {
    const middle = Math.round((year * DAYS_A_YEAR) / 7) - 1 - week;
    if (middle - SEASON_REACH >= known) return;
    for (let off = -SEASON_REACH; off <= SEASON_REACH; off++) {
      const ago = middle + off;
      if (ago >= 0 && ago < known) add(ago, ofYear * (1 - Math.abs(off) / (SEASON_REACH + 1)));
    }
  }
}

/**
 * Returns what a rider usually does over a year. Own past is told apart from others' by how much of it there is: a
 * share of ride weeks in the long run; on it what the same weeks of past years held beyond what was expected of them.
 */
export function usualYear({ weeks, lastDay, hemisphere }: RiderWeeks, habits: RidingHabits): UsualYear {
  const known = weeks.length;
  const ridden = weeks.map((week) => Number(isRidden(week)));
  const height = (week: number): number =>
    hemisphere * Math.cos(2 * Math.PI * ((lastDay + 4 + 7 * week) / DAYS_A_YEAR - habits.seasonPeak / YEAR));
  const season = (week: number): number => habits.seasonOdds * height(week);
  const seasonHours = (week: number): number => Math.exp(habits.seasonHours * height(week));
  const pastSeason = Float64Array.from(weeks, (_, ago) => season(-1 - ago));
  const own = ownOdds(ridden, pastSeason, habits);
  const beyond = Float64Array.from(ridden, (is, ago) => is - shareOf(own + pastSeason[ago]!));
  const evenHours = weeks.map(({ movingS }, ago) => movingS / seasonHours(-1 - ago));
  const rideWeeks = ridden.reduce((sum, is) => sum + is, 0);
  const usualHours = evenHours.reduce((sum, hours) => sum + hours, 0) / Math.max(1, rideWeeks);
  return {
    shareAt: (week) => {
      let more = 0;
      let seen = habits.seasonShareWorth;
      overSeasons(week, known, (ago, weight) => {
        more += weight * beyond[ago]!;
        seen += weight;
      });
      const share = shareOf(own + season(week)) + more / seen;
      return Math.min(1 - LEAST_SHARE, Math.max(LEAST_SHARE, share));
    },
    othersAt: (week) => shareOf(logOdds(habits.rideShare) + season(week)),
    hoursAt: (week) => {
      let hours = habits.seasonHoursWorth;
      let seen = habits.seasonHoursWorth;
      overSeasons(week, known, (ago, weight) => {
        if (ridden[ago] === 0) return;
        hours += (weight * evenHours[ago]!) / usualHours;
        seen += weight;
      });
      return (seasonHours(week) * hours) / seen;
    },
    weeksKnown: ridden.reduce((sum, _, ago) => sum + 2 ** (-ago / habits.longRunHalfLife), 0),
  };
}
