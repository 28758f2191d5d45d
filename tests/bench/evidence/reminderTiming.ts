import { seededRandom } from '../../../src/core/chance/seededRandom.js';
import { dayNumber, dayOfNumber } from '../../../src/core/days/dayNumber.js';
import { forecastRiding } from '../../../src/core/forecast/forecast.js';
import { daysKnown, FILES_LOOKED_AT } from '../../../src/core/forecast/knownUpTo.js';
import type { RidingHabits } from '../../../src/core/forecast/ridingHabits.js';
import { isComingUp, type Nearness } from '../../../src/core/ledger/comingUp.js';
import { HOUR_MS } from '../../../src/units.js';
import { type RiderLog, ridesUpTo } from './ridingLogs.js';
import { weightedQuantile } from './scoringRules.js';

const INTERVAL_HOURS = 50;
const PATHS = 150;

/** One interval, or the last hours of one, lived through day by day until its workshop knows that it was reached. */
export interface LivedInterval {
  readonly rider: string;
  readonly reachedAt: number;
  readonly days: readonly {
    readonly at: number;
    /** As they were, whatever was known. */
    readonly trueHoursLeft: number;
    /** As the files told. */
    readonly knownHoursLeft: number;
    readonly near: Omit<Nearness, 'noticeDays'>;
  }[];
}

/** Who hands over every so many days, on the evening. */
export interface HandingOver {
  readonly everyDays: number;
  readonly phase: number;
}

/** Returns the day on which what is ridden on a day is handed over. */
export const cameOn = (at: number, { everyDays, phase }: HandingOver): number =>
  phase + Math.ceil((at - phase) / everyDays) * everyDays;

const FILES_OF = 120;

const live = (
  log: RiderLog,
  start: number,
  hoursAtStart: number,
  habits: RidingHabits,
  handing: HandingOver,
): LivedInterval | null => {
  const days: LivedInterval['days'][number][] = [];
  const leftAt = (upTo: (rideAt: number) => boolean): number =>
    log.rides.reduce(
      (left, ride) => (ride.at > start && upTo(ride.at) ? left - ride.movingS / 3600 : left),
      hoursAtStart,
    );
  let reachedAt: number | null = null;
  for (let at = start + 1; at <= log.last; at++) {
    const trueHoursLeft = leftAt((rideAt) => rideAt <= at);
    const isThere = (rideAt: number): boolean => rideAt <= at && cameOn(rideAt, handing) <= at;
    const knownHoursLeft = leftAt(isThere);
    if (trueHoursLeft <= 0) reachedAt ??= at;
    const today = dayOfNumber(at);
    const rides = ridesUpTo(log, at).filter((ride) => isThere(dayNumber(ride.day)));
    const files = rides.slice(-FILES_OF).map((ride) => ({
      ridden: ride.day,
      came: dayOfNumber(cameOn(dayNumber(ride.day), handing)),
    }));
    const { upTo, filesBy } = daysKnown(files.slice(-FILES_LOOKED_AT), today);
    const riding = forecastRiding(
      {
        today,
        knownUpTo: upTo,
        filesBy,
        rides,
        hemisphere: 1,
        seed: `${log.rider} ${at}`,
      },
      habits,
      PATHS,
    );
    const { likely, quantileDays, weeksOfRides } = riding.reach({
      terrainMs: knownHoursLeft * HOUR_MS,
      movingS: null,
    });
    const hoursLeft = knownHoursLeft - riding.expectedSince.terrainMs / HOUR_MS;
    const nearness = { today, likely, oneInFour: quantileDays[4]!, filesBy, hoursLeft, weeksOfRides };
    const near = { ...nearness, intervalHours: INTERVAL_HOURS };
    days.push({ at, trueHoursLeft, knownHoursLeft, near });
    if (knownHoursLeft <= 0) return { rider: log.rider, reachedAt: reachedAt!, days };
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
  { hoursAtStart = INTERVAL_HOURS, everyDays = 1 } = {},
): readonly LivedInterval[] =>
  logs.flatMap((log) => {
    const random = seededRandom(`intervals of ${log.rider}`);
    const starts = Array.from(
      { length: perRider },
      () => log.first + Math.floor(random() * (log.last - log.first)),
    );
    const phase = Math.floor(random() * everyDays);
    return starts
      .map((start) => live(log, start, hoursAtStart, habits, { everyDays, phase }))
      .filter((lived) => lived !== null);
  });

export type NoticeRule = (at: Nearness) => boolean;

/** The rule that the design starts from: the middle date alone, and hours left for newcomers. */
export const middleDateOnly: NoticeRule = (at) =>
  isComingUp({ ...at, filesBy: null, hoursLeft: at.weeksOfRides < 6 ? at.hoursLeft : null });

/** Shares of units, and how early the notice came at the 10, 50 and 90 % unit, in days and true hours; riders weigh the same. */
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
  const notices = lived.map(({ rider, reachedAt, days }) => {
    const notice = days.find(
      ({ near, knownHoursLeft }) => rule({ ...near, noticeDays }) || knownHoursLeft <= 0,
    )!;
    return {
      weight: 1 / counts.get(rider)! / counts.size,
      daysEarly: reachedAt - notice.at,
      hoursLeft: notice.trueHoursLeft,
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
