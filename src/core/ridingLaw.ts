import type { RidingLaw } from './firstPassage.js';
import type { RideWeek } from './rideWeeks.js';
import type { Random } from './seededRandom.js';

/** A year: shorter windows take a lull or a summer for the rule. */
const WINDOW = 52;

/** Pseudo-weeks with which other riders' habits count beside this rider's own. */
const PRIOR_WEEKS = 6;
const PRIOR_RIDE_AFTER_RIDE = 0.71;
const PRIOR_RIDE_AFTER_REST = 0.24;
const PRIOR_HOURS = [0.6, 1.1, 1.6, 2.1, 2.7, 3.3, 4.1, 5.2, 6.8, 10];
const SPREAD = 0.7;

const normal = (random: Random): number =>
  Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());

const priorWeek = (hours: number, place: number, terrainPerMoving: number): RideWeek => {
  const only = (amount: number): number[] =>
    Array.from({ length: 7 }, (_, day) => (day === place % 7 ? amount : 0));
  const movingS = hours * 3600;
  const terrainMs = movingS * terrainPerMoving;
  return { movingS, terrainMs, dayMovingS: only(movingS), dayTerrainMs: only(terrainMs) };
};

const shareAfter = (weeks: readonly RideWeek[], afterRide: boolean, prior: number): number => {
  let rides = 0;
  let all = 0;
  for (let w = 0; w + 1 < weeks.length; w++) {
    if (weeks[w + 1]!.movingS > 0 !== afterRide) continue;
    all += 1;
    if (weeks[w]!.movingS > 0) rides += 1;
  }
  return (rides + PRIOR_WEEKS * prior) / (all + PRIOR_WEEKS);
};

/**
 * Returns how a rider may go on: ride weeks and rest weeks that each tend to persist, a ride week like one of the
 * year's own or, where few are known, like other riders', and a level that may change.
 */
export const ridingLaw = (weeks: readonly RideWeek[], random: Random): RidingLaw => {
  const year = weeks.slice(0, WINDOW);
  const ridden = year.filter((week) => week.movingS > 0);
  const afterRide = shareAfter(year, true, PRIOR_RIDE_AFTER_RIDE);
  const afterRest = shareAfter(year, false, PRIOR_RIDE_AFTER_REST);
  const movingS = ridden.reduce((sum, week) => sum + week.movingS, 0);
  const terrainMs = ridden.reduce((sum, week) => sum + week.terrainMs, 0);
  const perMoving = movingS > 0 ? terrainMs / movingS : 1000;
  const others = PRIOR_HOURS.map((hours, place) => priorWeek(hours, place, perMoving));
  const ownShare = ridden.length / (ridden.length + PRIOR_WEEKS);
  return {
    begin: () => {
      let riding = (year[0]?.movingS ?? 0) > 0;
      const scale = Math.exp(SPREAD * normal(random));
      const pool = random() < ownShare ? ridden : others;
      return {
        scale,
        next: () => {
          riding = random() < (riding ? afterRide : afterRest);
          return riding ? pool[Math.floor(random() * pool.length)]! : null;
        },
      };
    },
  };
};
