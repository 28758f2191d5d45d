import { seededRandom } from '../../../src/core/chance/seededRandom.js';
import { dayOfNumber } from '../../../src/core/days/dayNumber.js';
import { forecastRiding } from '../../../src/core/forecast/forecast.js';
import type { RidingHabits } from '../../../src/core/forecast/ridingHabits.js';
import { isComingUp, type Nearness } from '../../../src/core/ledger/comingUp.js';
import { HOUR_MS } from '../../../src/units.js';
import { type RiderLog, ridesUpTo } from './ridingLogs.js';
import { weightedQuantile } from './scoringRules.js';

const INTERVAL_HOURS = 50;

/** One interval, or the last hours of one, lived through day by day up to the day it was reached. */
export interface LivedInterval {
  readonly rider: string;
  readonly reachedAt: number;
  /** Below zero by how far the last ride went past the interval. */
  readonly hoursLeftAtEnd: number;
  readonly days: readonly { readonly at: number; readonly near: Omit<Nearness, 'noticeDays'> }[];
}

const live = (
  log: RiderLog,
  start: number,
  hoursAtStart: number,
  habits: RidingHabits,
): LivedInterval | null => {
  const days: { at: number; near: Omit<Nearness, 'noticeDays'> }[] = [];
  let hoursLeft = hoursAtStart;
  for (let at = start + 1; at <= log.last; at++) {
    for (const ride of log.rides) if (ride.at === at) hoursLeft -= ride.movingS / 3600;
    if (hoursLeft <= 0) return { rider: log.rider, reachedAt: at, hoursLeftAtEnd: hoursLeft, days };
    const today = dayOfNumber(at);
    const { likely, weeksOfRides } = forecastRiding(
      { today, knownUpTo: today, rides: ridesUpTo(log, at), hemisphere: 1, seed: `${log.rider} ${at}` },
      habits,
    ).reach({ terrainMs: hoursLeft * HOUR_MS, movingS: null });
    const near = { today, likely, hoursLeft, intervalHours: INTERVAL_HOURS, weeksOfRides };
    days.push({ at, near });
  }
  return null;
};

/**
 * Returns intervals begun on random days of each log, or joined when so many hours are left; those that the log's end
 * cuts short are left out.
 */
export const livedIntervals = (
  logs: readonly RiderLog[],
  perRider: number,
  habits: RidingHabits,
  hoursAtStart = INTERVAL_HOURS,
): readonly LivedInterval[] =>
  logs.flatMap((log) => {
    const random = seededRandom(`intervals of ${log.rider}`);
    const starts = Array.from(
      { length: perRider },
      () => log.first + Math.floor(random() * (log.last - log.first)),
    );
    return starts.map((start) => live(log, start, hoursAtStart, habits)).filter((lived) => lived !== null);
  });

export type NoticeRule = (at: Nearness) => boolean;

/** The rule that the design starts from: the middle date alone, and hours left for newcomers. */
export const middleDateOnly: NoticeRule = (at) =>
  isComingUp({ ...at, hoursLeft: at.weeksOfRides < 6 ? at.hoursLeft : null });

/** Shares of units, and how early the notice came at the 10, 50 and 90 % unit; riders weigh the same. */
export interface Timing {
  readonly intervals: number;
  readonly passedUnannounced: number;
  readonly passedByTwoHours: number;
  readonly daysEarly: readonly number[];
  readonly hoursLeft: readonly number[];
}

export const timingOf = (lived: readonly LivedInterval[], noticeDays: number, rule: NoticeRule): Timing => {
  const counts = new Map<string, number>();
  for (const { rider } of lived) counts.set(rider, (counts.get(rider) ?? 0) + 1);
  const notices = lived.map(({ rider, reachedAt, hoursLeftAtEnd, days }) => {
    const notice = days.find(({ near }) => rule({ ...near, noticeDays }));
    return {
      weight: 1 / counts.get(rider)! / counts.size,
      daysEarly: notice ? reachedAt - notice.at : 0,
      hoursLeft: notice ? notice.near.hoursLeft! : hoursLeftAtEnd,
    };
  });
  const share = (beyondHours: number): number =>
    notices.reduce((sum, n) => sum + (n.hoursLeft < -beyondHours ? n.weight : 0), 0);
  const at = (key: 'daysEarly' | 'hoursLeft'): readonly number[] =>
    [0.1, 0.5, 0.9].map((p) =>
      weightedQuantile(
        notices.map((n) => [n[key], n.weight] as const),
        p,
      ),
    );
  return {
    intervals: lived.length,
    passedUnannounced: share(0),
    passedByTwoHours: share(2),
    daysEarly: at('daysEarly'),
    hoursLeft: at('hoursLeft'),
  };
};
