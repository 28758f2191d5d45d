import type { Day } from '../../units.js';
import { DAY_MS } from '../../units.js';
import { addDays, startOfDay } from '../days/calendar.js';
import { dayNumber } from '../days/dayNumber.js';

/** 1 where summer is in July, −1 where it is in January, 0 where that is not known. */
export type Hemisphere = 1 | 0 | -1;

const offsetAt = (day: Day, zone: string): number => dayNumber(day) * DAY_MS - startOfDay(day, zone);

/**
 * Returns where summer is, as far as the zone's clocks tell: they are put forward in summer. Zones that never put them
 * forward tell nothing, and then a rider's own past years alone know the season.
 */
export const hemisphereOf = (zone: string, today: Day): Hemisphere => {
  const newYear = `${today.slice(0, 4)}-01-15` as Day;
  const ahead = offsetAt(addDays(newYear, 182), zone) - offsetAt(newYear, zone);
  return ahead > 0 ? 1 : ahead < 0 ? -1 : 0;
};

/** The months in which most ride where the workshop is: April to October, or the other half of the year. */
export const warmMonths = (zone: string, today: Day): readonly number[] =>
  hemisphereOf(zone, today) < 0 ? [1, 2, 3, 4, 10, 11, 12] : [4, 5, 6, 7, 8, 9, 10];
