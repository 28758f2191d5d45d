import { seededRandom } from '../../../src/core/chance/seededRandom.js';
import { dayNumber, dayOfNumber } from '../../../src/core/days/dayNumber.js';
import { forecastRiding } from '../../../src/core/forecast/forecast.js';
import { daysKnown, FILES_LOOKED_AT } from '../../../src/core/forecast/knownUpTo.js';
import type { RidingHabits } from '../../../src/core/forecast/ridingHabits.js';
import { isComingUp, type Nearness } from '../../../src/core/ledger/comingUp.js';
import { HOUR_MS } from '../../../src/units.js';
import { type Figure, meanFigure, quantileFigure } from './ridersAnew.js';
import { type RiderLog, ridesUpTo } from './ridingLogs.js';

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
    const nearness = { today, likely, threeInTen: quantileDays[5]!, filesBy, hoursLeft, weeksOfRides };
    const near = { ...nearness, intervalHours: INTERVAL_HOURS };
    days.push({ at, trueHoursLeft, knownHoursLeft, near });
    if (knownHoursLeft <= 0) return { rider: log.rider, reachedAt: reachedAt!, days };
  }
  return null;
};

/** Intervals follow one another from the day before the first ride; each ends on the day on which it is reached. */
const startsOf = (log: RiderLog): readonly number[] => {
  const starts = [log.first - 1];
  let hours = 0;
  for (const ride of log.rides) {
    hours += ride.movingS / 3600;
    if (hours < INTERVAL_HOURS || ride.at === starts.at(-1)) continue;
    starts.push(ride.at);
    hours = 0;
  }
  return starts;
};

const spread = <T>(all: readonly T[], most: number): readonly T[] =>
  all.length <= most
    ? all
    : Array.from({ length: most }, (_, i) => all[Math.floor((i * all.length) / most)]!);

/**
 * Returns each rider's intervals one after another, so many of them spread evenly, whole or begun with fewer hours left.
 * The one that the log's end cuts short is left out.
 */
export const livedIntervals = (
  logs: readonly RiderLog[],
  perRider: number,
  habits: RidingHabits,
  { hoursAtStart = INTERVAL_HOURS, everyDays = 1 } = {},
): readonly LivedInterval[] =>
  logs.flatMap((log) => {
    const phase = Math.floor(seededRandom(`hand-overs of ${log.rider}`)() * everyDays);
    return spread(startsOf(log), perRider)
      .map((start) => live(log, start, hoursAtStart, habits, { everyDays, phase }))
      .filter((lived) => lived !== null);
  });

export type NoticeRule = (at: Nearness) => boolean;

/** The rule that the design starts from: the middle date alone, and hours left for newcomers. */
export const middleDateOnly: NoticeRule = (at) =>
  isComingUp({ ...at, filesBy: null, hoursLeft: at.weeksOfRides < 6 ? at.hoursLeft : null });

/** Riders weigh the same. Units: shares, days, true hours. Shape: the 10, 50 and 90 % unit. */
export interface Timing {
  readonly intervals: number;
  readonly passedUnannounced: Figure;
  readonly passedByTwoHours: Figure;
  readonly daysEarly: readonly Figure[];
  readonly hoursLeft: readonly Figure[];
  /** In how many intervals the rule came and went again: what a stored fact keeps from being told. */
  readonly flapped: number;
}

const isNear = (rule: NoticeRule, noticeDays: number, day: LivedInterval['days'][number]): boolean =>
  rule({ ...day.near, noticeDays }) || day.knownHoursLeft <= 0;

export const timingOf = (lived: readonly LivedInterval[], noticeDays: number, rule: NoticeRule): Timing => {
  const notices = lived.map(({ rider, reachedAt, days }) => {
    const notice = days.find((day) => isNear(rule, noticeDays, day))!;
    return { rider, daysEarly: reachedAt - notice.at, hoursLeft: notice.trueHoursLeft };
  });
  const passed = (beyondHours: number): Figure =>
    meanFigure(notices.map((n) => ({ rider: n.rider, value: Number(n.hoursLeft < -beyondHours) })));
  const at = (key: 'daysEarly' | 'hoursLeft'): readonly Figure[] =>
    [0.1, 0.5, 0.9].map((p) => quantileFigure(p)(notices.map((n) => ({ rider: n.rider, value: n[key] }))));
  const flaps = ({ days }: LivedInterval): boolean => {
    const near = days.map((day) => isNear(rule, noticeDays, day));
    const first = near.indexOf(true);
    return near.indexOf(false, first) !== -1;
  };
  return {
    intervals: lived.length,
    passedUnannounced: passed(0),
    passedByTwoHours: passed(2),
    daysEarly: at('daysEarly'),
    hoursLeft: at('hoursLeft'),
    flapped: lived.filter(flaps).length,
  };
};
