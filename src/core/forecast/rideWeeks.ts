import type { Day } from '../../units.js';
import { dayNumber } from '../days/dayNumber.js';

/** One day's riding of a bike or unit, or a part of it. */
export interface RideHours {
  readonly day: Day;
  readonly movingS: number;
  readonly terrainMs: number;
}

/** Riding of one week, in total and day by day (seven of each). */
export interface RideWeek {
  readonly movingS: number;
  readonly terrainMs: number;
  readonly dayMovingS: readonly number[];
  readonly dayTerrainMs: readonly number[];
}

interface WeekSums {
  movingS: number;
  terrainMs: number;
  readonly dayMovingS: number[];
  readonly dayTerrainMs: number[];
}

const emptyWeek = (): WeekSums => ({
  movingS: 0,
  terrainMs: 0,
  dayMovingS: [0, 0, 0, 0, 0, 0, 0],
  dayTerrainMs: [0, 0, 0, 0, 0, 0, 0],
});

/**
 * Returns the weeks of riding that end today, the latest first; week `w` holds the seven days up to `today − 7 w`. So
 * its days fall on the same weekdays as those of any week counted forward from tomorrow.
 * Shape: from today back to the week of the first ride, at most `limit` weeks; rides after today are left out.
 */
export const rideWeeks = (rides: readonly RideHours[], today: Day, limit: number): readonly RideWeek[] => {
  const now = dayNumber(today);
  const weeks: WeekSums[] = [];
  for (const ride of rides) {
    const ago = now - dayNumber(ride.day);
    const index = Math.floor(ago / 7);
    if (ago < 0) continue;
    while (weeks.length <= Math.min(index, limit - 1)) weeks.push(emptyWeek());
    const week = weeks[index];
    if (week === undefined) continue;
    const weekday = 6 - (ago % 7);
    week.movingS += ride.movingS;
    week.terrainMs += ride.terrainMs;
    week.dayMovingS[weekday] = week.dayMovingS[weekday]! + ride.movingS;
    week.dayTerrainMs[weekday] = week.dayTerrainMs[weekday]! + ride.terrainMs;
  }
  return weeks;
};
