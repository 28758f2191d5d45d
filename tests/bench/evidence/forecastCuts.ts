import type { RideHours } from '../../../src/core/forecast/forecast.js';
import { type RiderLog, ridesUpTo } from './ridingLogs.js';

export const GOAL_HOURS = [10, 25, 50] as const;

/** A rider's log cut on a day: what was known then, and what came. */
export interface Cut {
  readonly rider: string;
  readonly at: number;
  readonly rides: readonly RideHours[];
  /** Hours by week up to the cut, the latest first; at most two years, from the first ride on. */
  readonly weeks: readonly number[];
  readonly weeksBehind: number;
  /** How long the log goes on. */
  readonly daysAhead: number;
  /** Days until each goal's hours were ridden; infinite where the log ends before. */
  readonly daysUntil: readonly number[];
}

const weeksUpTo = (log: RiderLog, at: number): readonly number[] => {
  const weeks = Array<number>(Math.min(104, Math.floor((at - log.first) / 7))).fill(0);
  for (const ride of log.rides) {
    const ago = Math.floor((at - ride.at) / 7);
    if (ride.at <= at && ago < weeks.length) weeks[ago] = weeks[ago]! + ride.movingS / 3600;
  }
  return weeks;
};

const daysUntil = (log: RiderLog, at: number, hours: number): number => {
  let left = hours * 3600;
  for (const ride of log.rides) {
    if (ride.at <= at) continue;
    left -= ride.movingS;
    if (left <= 0) return ride.at - at;
  }
  return Number.POSITIVE_INFINITY;
};

export const cutAt = (log: RiderLog, at: number): Cut => ({
  rider: log.rider,
  at,
  rides: ridesUpTo(log, at),
  weeks: weeksUpTo(log, at),
  weeksBehind: Math.floor((at - log.first) / 7),
  daysAhead: log.last - at,
  daysUntil: GOAL_HOURS.map((hours) => daysUntil(log, at, hours)),
});

/** Returns a cut every so many days, from the given weeks behind it on (27: as the study that is compared with). */
export const cutsOf = (
  logs: readonly RiderLog[],
  { everyDays = 28, fromWeek = 27, toWeek = Number.POSITIVE_INFINITY } = {},
): readonly Cut[] =>
  logs.flatMap((log) => {
    const cuts: Cut[] = [];
    const end = Math.min(log.last, log.first + toWeek * 7);
    for (let at = log.first + fromWeek * 7; at < end; at += everyDays) cuts.push(cutAt(log, at));
    return cuts;
  });

const hoursOf = (cut: Cut, weeks: number): number =>
  cut.weeks.slice(0, weeks).reduce((sum, hours) => sum + hours, 0);

/** The rows that get figures of their own. */
/** Share of the last year's weeks without a ride, or of the weeks known. */
export const restShareOf = ({ weeks }: Cut): number => {
  const year = weeks.slice(0, 52);
  return year.filter((hours) => hours === 0).length / Math.max(1, year.length);
};

export const KINDS_OF_CUT: readonly { readonly name: string; readonly is: (cut: Cut) => boolean }[] = [
  { name: 'under a year of history', is: (cut) => cut.weeksBehind < 52 },
  // Less than a quarter of the half year's hours fell into its last 12 weeks.
  { name: 'after a lull', is: (cut) => hoursOf(cut, 12) < hoursOf(cut, 26) / 4 },
  { name: 'no ride in 12 weeks', is: (cut) => hoursOf(cut, 12) === 0 },
  { name: 'rode in the last 2 weeks', is: (cut) => hoursOf(cut, 2) > 0 },
];
