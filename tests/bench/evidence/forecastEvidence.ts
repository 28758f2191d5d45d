import { HABITS } from '../../../src/core/forecast/ridingHabits.js';
import { isComingUp } from '../../../src/core/ledger/comingUp.js';
import { cutsOf, GOAL_HOURS, KINDS_OF_CUT } from './forecastCuts.js';
import {
  forecastAll,
  isCovered,
  type Outcome,
  type Scores,
  scoresOf,
  settledRanges,
  sharesCameTrue,
} from './forecastScores.js';
import { learnHabits } from './learnHabits.js';
import { livedIntervals, middleDateOnly, type Timing, timingOf } from './reminderTiming.js';
import { type RiderLog, readRidingLogs } from './ridingLogs.js';
import { chain, FORECASTERS, type Forecaster, ours } from './rivalForecasts.js';
import { kupiec } from './scoringRules.js';
import { textTable } from './textTable.js';

const INTERVALS_PER_RIDER = 5;

/** Median error, relative, bias, pinball, coverage of an earlier study of 49 riders, 27 of them these. */
const EARLIER_STUDY = [
  ['hours left ÷ rate of 12 weeks', '101', '.72', '+.48', '– / 127 / –', '–'],
  ['hours left ÷ rate of 52 weeks', '69', '.57', '+.20', '– / 76 / –', '–'],
  ['bootstrap of 52 weeks', '70', '.57', '+.27', '66 / 76 / 36', '51 %'],
  ['chain × lognormal 0.7', '67', '.57', '+.28', '26 / 71 / 37', '79 %'],
  ['mix with season × learned factors', '56', '.52', '+.01', '22 / 67 / 37', '76 %'],
];

const percent = (share: number): string => `${(100 * share).toFixed(0)} %`;
const signed = (value: number): string => (value < 0 ? '−' : '+') + Math.abs(value).toFixed(2);
const days = (values: readonly number[], digits = 0): string =>
  values.map((v) => v.toFixed(digits)).join(' / ');

const SCORE_HEAD = [
  '',
  'median error',
  'relative',
  'bias',
  'pinball .1/.5/.9',
  'CRPS',
  'Winkler',
  'covers',
  'cuts',
];
const scoreRow = (name: string, s: Scores): readonly string[] => [
  name,
  s.medianError.toFixed(0),
  s.relative.toFixed(2),
  signed(s.bias),
  days(s.pinball),
  s.crps.toFixed(0),
  s.winkler.toFixed(0),
  percent(s.coverage),
  `${s.cuts} / ${s.coverageCuts}`,
];

const isHalf = (judge: boolean) => (log: RiderLog) => log.isJudge === judge;
const nameOfHalf = (judge: boolean): string =>
  judge ? 'even-numbered riders (judges)' : 'odd-numbered riders (learned from)';

const againstRivals = (logs: readonly RiderLog[]): string => {
  const cuts = cutsOf(logs);
  const rows = FORECASTERS.map(({ name, forecast }) => scoreRow(name, scoresOf(forecastAll(cuts, forecast))));
  return textTable([SCORE_HEAD, ...rows]);
};

/** What "never" counts as weighs on forecasts that say it often; so the closest rival is shown under shorter ones too. */
const underShorterHorizons = (logs: readonly RiderLog[]): string => {
  const cuts = cutsOf(logs);
  const rows = [365, 730].flatMap((horizon) =>
    [
      { name: 'chain × lognormal 0.7', forecast: chain(0.7) },
      { name: 'ours', forecast: ours },
    ].map(({ name, forecast }) => {
      const capped: Forecaster = (cut, goal) => forecast(cut, goal).map((ahead) => Math.min(ahead, horizon));
      // A cut-off 90 % day claims nothing, so coverage is not shown.
      return scoreRow(`${name}, ${horizon} days`, scoresOf(forecastAll(cuts, capped))).slice(0, 7);
    }),
  );
  return textTable([SCORE_HEAD.slice(0, 7), ...rows]);
};

const byKindOfCut = (logs: readonly RiderLog[]): string => {
  const early = {
    name: 'first half year (weekly cuts)',
    cuts: cutsOf(logs, { everyDays: 7, fromWeek: 1, toWeek: 27 }),
  };
  const later = KINDS_OF_CUT.map(({ name, is }) => ({ name, cuts: cutsOf(logs).filter(is) }));
  const rows = [early, ...later].flatMap(({ name, cuts }) => [
    scoreRow(`${name}: chain`, scoresOf(forecastAll(cuts, chain(0.7)))),
    scoreRow(`${name}: ours`, scoresOf(forecastAll(cuts, ours))),
  ]);
  return textTable([SCORE_HEAD, ...rows]);
};

const coverage = (name: string, outcomes: readonly Outcome[]): readonly string[] => [
  name,
  ...GOAL_HOURS.map((hours) => percent(scoresOf(outcomes.filter((o) => o.goalHours === hours)).coverage)),
  percent(scoresOf(outcomes).coverage),
  days(sharesCameTrue(outcomes).map((share) => 100 * share)),
];

/** A cut a year and one goal, so that outcomes hardly overlap and the test's trials are nearly independent. */
const independentTest = (logs: readonly RiderLog[]): string => {
  const outcomes = forecastAll(cutsOf(logs, { everyDays: 364 }), ours).filter((o) => o.goalHours === 25);
  const ranges = settledRanges(outcomes);
  const hits = ranges.filter(isCovered).length;
  return `One cut a year, 25 hours: ${hits} of ${ranges.length} in the range, Kupiec ${kupiec(hits, ranges.length, 0.8).toFixed(2)} (over 3.84 would reject 80 %).`;
};

const learned = (logs: readonly RiderLog[]): string => {
  const { coefficients, weekHours, rideShare } = learnHabits(logs);
  const { base, weekBefore, lately, longRun, season } = HABITS;
  return textTable([
    ['', 'base', 'week before', 'lately', 'long run', 'season'],
    ['fitted a week ahead', ...coefficients.map((c) => c.toFixed(2))],
    ['in the core', ...[base, weekBefore, lately, longRun, season].map((c) => c.toFixed(2))],
  ]).concat(
    `\nhours of a ride week, fitted:      ${days(weekHours, 2)}`,
    `\nhours of a ride week, in the core: ${days(HABITS.weekHours, 2)}`,
    `\nshare of ride weeks: ${rideShare.toFixed(2)} over whole logs; newcomers begin lower, in the core ${HABITS.rideShare}`,
  );
};

const TIMING_HEAD = [
  '',
  'notice',
  'passed > 0 h',
  'passed > 2 h',
  'days early 10/50/90',
  'hours left 10/50/90',
  'units',
];
const timingRow = (name: string, noticeDays: number, t: Timing): readonly string[] => [
  name,
  `${noticeDays} d`,
  `${(100 * t.passedUnannounced).toFixed(1)} %`,
  `${(100 * t.passedByTwoHours).toFixed(1)} %`,
  days(t.daysEarly),
  days(t.hoursLeft, 1),
  String(t.intervals),
];

const reminders = (logs: readonly RiderLog[]): string => {
  const lived = livedIntervals(logs, INTERVALS_PER_RIDER);
  const rows = [7, 14, 28].flatMap((noticeDays) => [
    timingRow('middle date only', noticeDays, timingOf(lived, noticeDays, middleDateOnly)),
    timingRow('ours', noticeDays, timingOf(lived, noticeDays, isComingUp)),
  ]);
  return textTable([TIMING_HEAD, ...rows]);
};

/** Returns the forecast's scores and the reminders' timing on real riders' logs, as text; says so where there are none. */
export const forecastEvidence = async (): Promise<string> => {
  const folder = process.env.STANCHION_RECORDINGS;
  if (folder === undefined)
    return 'Forecast: no folder of recordings (STANCHION_RECORDINGS), so nothing is shown.';
  const logs = readRidingLogs(folder);
  const halves = [true, false].map((judge) => ({
    name: nameOfHalf(judge),
    logs: logs.filter(isHalf(judge)),
  }));
  const coverageRows = halves.map(({ name, logs }) => coverage(name, forecastAll(cutsOf(logs), ours)));
  return [
    '# When will the hours be reached? Forecasts on real riders',
    `${logs.length} riders, cut every 28 days from 27 weeks on; days until 10, 25 and 50 more moving hours; every rider weighs the same. Goals not reached before a log ends are left out of errors; coverage counts cuts whose log goes on past the 90 % date. "Never" is five years, in every row. Constants were fitted on the odd-numbered riders; the even-numbered half was seen while variants were chosen, so it is not untouched, and its figures may be a little kind.`,
    ...halves.flatMap(({ name, logs }) => [`## ${name}`, againstRivals(logs)]),
    '## The same with a shorter "never": even-numbered riders',
    underShorterHorizons(logs.filter(isHalf(true))),
    '## Figures of an earlier study: 49 riders, these among them; another horizon',
    textTable([['', 'median error', 'relative', 'bias', 'pinball .1/.5/.9', 'covers'], ...EARLIER_STUDY]),
    '## How many 80 % ranges hold, by hours left; and how many 10/50/90 % dates come true, in percent',
    textTable([['', ...GOAL_HOURS.map((hours) => `${hours} h`), 'all', 'came true'], ...coverageRows]),
    independentTest(logs.filter(isHalf(true))),
    '## Where it is hard: even-numbered riders',
    byKindOfCut(logs.filter(isHalf(true))),
    '## What was learned, from odd-numbered riders',
    learned(logs.filter(isHalf(false))),
    ...halves.flatMap(({ name, logs }) => [
      `## Reminders for an interval of 50 hours: ${name}`,
      reminders(logs),
    ]),
  ].join('\n\n');
};
