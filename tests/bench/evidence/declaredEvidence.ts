/** How far off are hours that a rider declares: so many a week, spread evenly, against real riders' own quarters. */
import { quantile } from '../../../src/core/chance/quantile.js';
import { dayOfNumber } from '../../../src/core/days/dayNumber.js';
import { ALL_MONTHS, type Declared, declaredRides } from '../../../src/core/forecast/declared.js';
import { DEFAULT_WEIGHTS } from '../../../src/core/ledger/weight.js';
import { type RiderLog, readRidingLogs } from './ridingLogs.js';
import { textTable } from './textTable.js';

const QUARTER_DAYS = 91;
const YEAR_DAYS = 364;
/** What a service interval takes. Units: hours, and the longest that is looked for. */
const INTERVAL_H = 50;
const MOST_DAYS = 2 * YEAR_DAYS;
/** A month counts as ridden from this share of the mean month on. */
const RIDDEN_SHARE = 0.25;
const BIKE = { id: 'b1', handle: 'b1', riderId: 'r1', name: 'Bike', type: 'trail', motor: false } as const;

/** What a rider might say on a day who knows the own past. */
type Says = (log: RiderLog, at: number) => Pick<Declared, 'hoursAWeek' | 'months'>;

const hoursBetween = ({ rides }: RiderLog, from: number, until: number): number =>
  rides.reduce((sum, { at, movingS }) => (at >= from && at < until ? sum + movingS / 3600 : sum), 0);

/** To the half hour, as people say it. */
const toHalf = (hours: number): number => Math.max(0.5, Math.round(hours * 2) / 2);

const pastYear: Says = (log, at) => ({
  hoursAWeek: toHalf(hoursBetween(log, at - YEAR_DAYS, at) / 52),
  months: ALL_MONTHS,
});

/** Months in which hardly anything was ridden are left out, and the mean is of the others. */
const withMonths: Says = (log, at) => {
  const byMonth = new Map(ALL_MONTHS.map((month) => [month, 0]));
  for (const ride of log.rides) {
    const month = Number(ride.day.slice(5, 7));
    if (ride.at >= at - YEAR_DAYS && ride.at < at)
      byMonth.set(month, byMonth.get(month)! + ride.movingS / 3600);
  }
  const all = [...byMonth.values()].reduce((sum, hours) => sum + hours, 0);
  const months = ALL_MONTHS.filter((month) => byMonth.get(month)! >= (RIDDEN_SHARE * all) / 12);
  const hours = months.reduce((sum, month) => sum + byMonth.get(month)!, 0);
  return { hoursAWeek: toHalf(hours / (months.length * (52 / 12))), months };
};

const lastQuarter: Says = (log, at) => ({
  hoursAWeek: toHalf(hoursBetween(log, at - QUARTER_DAYS, at) / 13),
  months: ALL_MONTHS,
});

const offBy =
  (share: number): Says =>
  (log, at) => ({
    ...pastYear(log, at),
    hoursAWeek: toHalf((share * hoursBetween(log, at - YEAR_DAYS, at)) / 52),
  });

const SAYINGS: readonly (readonly [string, Says])[] = [
  ['mean of the year before', pastYear],
  ['the same, in the months ridden', withMonths],
  ['mean of the quarter before', lastQuarter],
  ['a third too little', offBy(2 / 3)],
  ['half too much', offBy(1.5)],
];

/** The hours that count for it, day by day. */
function declaredDays(says: ReturnType<Says>, at: number, days: number): number[] {
  const from = dayOfNumber(at);
  const said: Declared = { bikeId: 'b1', ground: 'typical', from, to: null, ...says };
  const of = {
    bike: BIKE,
    said: [said],
    files: { from: null, upTo: null },
    weights: DEFAULT_WEIGHTS,
    zone: 'UTC',
  } as unknown as Parameters<typeof declaredRides>[0];
  const hours = Array<number>(days).fill(0);
  for (const { start, movingS } of declaredRides(of, from, dayOfNumber(at + days)))
    hours[Math.floor(start / 86_400_000) - at]! += movingS / 3600;
  return hours;
}

const sumOf = (hours: readonly number[]): number => hours.reduce((sum, one) => sum + one, 0);

/** Returns after how many days so many hours are reached; null where they are not in two years. */
function daysTo(hours: readonly number[]): number | null {
  let sum = 0;
  const place = hours.findIndex((one) => {
    sum += one;
    return sum >= INTERVAL_H;
  });
  return place === -1 ? null : place + 1;
}

const realDays = ({ rides }: RiderLog, from: number, days: number): number[] => {
  const hours = Array<number>(days).fill(0);
  for (const { at, movingS } of rides)
    if (at >= from && at < from + days) hours[at - from]! += movingS / 3600;
  return hours;
};

export interface DeclaredScore {
  readonly quarters: number;
  /** Of a quarter's hours, declared by real. Shape: 10, 50 and 90 %. */
  readonly quarterRatio: readonly number[];
  readonly within25: number;
  readonly within50: number;
  readonly yearRatio: readonly number[];
  /** By how many days the fiftieth hour comes too late. */
  readonly daysLate: readonly number[];
  readonly empty: number;
}

const spread = (values: readonly number[]): number[] =>
  [0.1, 0.5, 0.9].map((share) => quantile(Float64Array.from(values).sort(), share));

/** Returns how what a rider says each quarter compares with what was ridden then. */
export function scoreDeclared(logs: readonly RiderLog[], says: Says): DeclaredScore {
  const [quarters, years, late]: [number[], number[], number[]] = [[], [], []];
  let empty = 0;
  for (const log of logs) {
    for (let at = log.first + YEAR_DAYS; at + YEAR_DAYS <= log.last; at += QUARTER_DAYS) {
      // Who rode nothing in a year would declare nothing.
      if (hoursBetween(log, at - YEAR_DAYS, at) < 26) continue;
      const said = says(log, at);
      const [declared, real] = [declaredDays(said, at, MOST_DAYS), realDays(log, at, MOST_DAYS)];
      const quarter = sumOf(real.slice(0, QUARTER_DAYS));
      if (quarter < 1) empty += 1;
      else quarters.push(sumOf(declared.slice(0, QUARTER_DAYS)) / quarter);
      years.push(sumOf(declared.slice(0, YEAR_DAYS)) / sumOf(real.slice(0, YEAR_DAYS)));
      const [told, was] = [daysTo(declared), daysTo(real)];
      if (told !== null && was !== null) late.push(told - was);
    }
  }
  const within = (most: number): number =>
    quarters.filter((ratio) => Math.abs(ratio - 1) <= most).length / quarters.length;
  return {
    quarters: quarters.length,
    quarterRatio: spread(quarters),
    within25: within(0.25),
    within50: within(0.5),
    yearRatio: spread(years.filter(Number.isFinite)),
    daysLate: spread(late),
    empty,
  };
}

export async function declaredEvidence(): Promise<string> {
  const folder = process.env.STANCHION_RECORDINGS;
  if (!folder) return 'Declared hours: set STANCHION_RECORDINGS to a folder of recordings.';
  const logs = readRidingLogs(folder);
  const ratio = (of: readonly number[]): string => of.map((one) => one.toFixed(2)).join(', ');
  const percent = (share: number): string => `${Math.round(100 * share)} %`;
  const rows = SAYINGS.map(([name, says]) => {
    const score = scoreDeclared(logs, says);
    return [
      ...[name, String(score.quarters), ratio(score.quarterRatio)],
      ...[percent(score.within25), percent(score.within50), ratio(score.yearRatio)],
      ...[score.daysLate.map((days) => days.toFixed(0)).join(', '), String(score.empty)],
    ];
  });
  return [
    'Declared hours against what real riders rode: said anew each quarter by who knows the own past',
    `(declared by real, 10, 50, 90 %; days by which the hour ${INTERVAL_H} comes too late; quarters with under an hour)`,
    textTable([
      ['says', 'quarters', 'a quarter', 'within 25 %', 'within 50 %', 'a year', 'days late', 'empty'],
      ...rows,
    ]),
  ].join('\n');
}
