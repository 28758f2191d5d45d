/** What riders have in common. Units: weeks, hours, and log-odds of a ride in a week. */
export interface RidingHabits {
  /** Share of ride weeks that an unknown rider comes with over a year, and how many weeks of one's own weigh as much. */
  readonly rideShare: number;
  readonly rideShareWorth: number;
  /** Weeks in which a week's part in a rider's own share fades to a half. */
  readonly longRunHalfLife: number;
  /** How much likelier a ride is at the height of the year, and how much longer a ride week, in logarithms. */
  readonly seasonOdds: number;
  readonly seasonHours: number;
  /** Week of the year in which riding is at its height, in the north. */
  readonly seasonPeak: number;
  /** How many of one's own weeks at the same time of past years weigh as much as what other riders' season says. */
  readonly seasonShareWorth: number;
  readonly seasonHoursWorth: number;
  /** What a week holds beyond what was usual, and the weeks before it, adds to the odds of the next. */
  readonly weekBefore: number;
  readonly lately: number;
  readonly latelyHalfLife: number;
  /** Spread of what changes in a rider from here on, and of a rider of whom nothing is known. */
  readonly change: number;
  readonly between: number;
  /** Weeks ahead in which what sets a rider apart from the others fades to a half. */
  readonly apartHalfLife: number;
  /** Spread of the logarithm of the hours of coming ride weeks over past ones. */
  readonly hoursChange: number;
  /** Hours of a ride week: means of ten equal parts, from the least to the most; and own ride weeks that weigh as much. */
  readonly weekHours: readonly number[];
  readonly weekHoursWorth: number;
}

/**
 * Source: 27 real riders' logs, each weighing the same. Strengths of pooling, the season's heights and peak, `rideShare`,
 * `lately`, `change`, `apartHalfLife` and `weekHours` are what `npm run evidence` learns again and prints beside these;
 * the rest was set by judgement and held. There each third of the riders is judged by habits learned from the others.
 */
export const HABITS: RidingHabits = {
  rideShare: 0.5,
  rideShareWorth: 20,
  longRunHalfLife: 150,
  seasonOdds: 1.3,
  seasonHours: 0.2,
  seasonPeak: 28,
  seasonShareWorth: 1.8,
  seasonHoursWorth: 20,
  weekBefore: 0.6,
  lately: 3.1,
  latelyHalfLife: 4,
  change: 0.4,
  between: 1,
  apartHalfLife: 68,
  hoursChange: 0.35,
  weekHours: [0.51, 0.99, 1.39, 1.86, 2.43, 3.07, 3.81, 4.82, 6.49, 9.84],
  weekHoursWorth: 7,
};
