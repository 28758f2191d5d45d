/**
 * What riders have in common, fitted to one half of a set of real riders and judged on the other.
 * Source: the odd-numbered half of 27 real riders' logs (14 riders, each weighing the same), as `npm run evidence`
 * learns and prints again beside these figures; the even-numbered half judges, though it was seen while
 * variants were chosen.
 */
export const HABITS = {
  /**
   * Log-odds that a week holds a ride: a base, whether the week before had one, the share of ride weeks lately and in
   * the long run (means that fade), and how much the same weeks of past years differ from the year's mean.
   * Fitted by logistic regression a week ahead, which gives the long run nothing; it then got half a point, and
   * `lately` lost a quarter, so that 10 to 50 hours ahead the middle date is late about as often as early.
   */
  base: -2.0,
  weekBefore: 0.8,
  lately: 3.0,
  longRun: 0.5,
  season: 1.15,
  /** Weeks in which a ride week's part in those means fades to a half. */
  latelyHalfLife: 3,
  longRunHalfLife: 40,
  /** Share of ride weeks that an unknown rider is taken to come with. */
  rideShare: 0.4,
  /** Hours of a ride week: means of ten equal parts, from the least to the most. */
  weekHours: [0.57, 1.11, 1.64, 2.21, 2.86, 3.54, 4.49, 5.56, 7.36, 11.54],
  /** How many ride weeks of one's own weigh as much as these. */
  weekHoursWorth: 3,
  /**
   * Standard deviations of the logarithm of the future level over the past one: riders fall further than they rise.
   * Set so that of the dates at 10, 50 and 90 % about so many come true.
   * The fall is wider by up to `newcomer` of itself where under a year is known.
   */
  rise: 0.4,
  fall: 0.75,
  newcomer: 0.5,
} as const;
