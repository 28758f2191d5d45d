import { HABITS, type RidingHabits } from '../../../src/core/forecast/ridingHabits.js';
import { isComingUp } from '../../../src/core/ledger/comingUp.js';
import { cutsOf, KINDS_OF_CUT } from './forecastCuts.js';
import { coverageOf, GROUPS } from './forecastGroups.js';
import {
  forecastAll,
  isCovered,
  type Outcome,
  type Scores,
  scoresOf,
  settledRanges,
  sharesCameTrue,
} from './forecastScores.js';
import { LEARNED, learnHabits } from './learnHabits.js';
import { livedIntervals, middleDateOnly, type Timing, timingOf } from './reminderTiming.js';
import { type RiderLog, readRidingLogs } from './ridingLogs.js';
import { chain, oursWith, RIVALS } from './rivalForecasts.js';
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

const FOLDS = 3;

interface Fold {
  readonly logs: readonly RiderLog[];
  readonly habits: RidingHabits;
}

/** Every third rider is judged by habits that the others taught. */
const foldsOf = (logs: readonly RiderLog[]): readonly Fold[] =>
  Array.from({ length: FOLDS }, (_, k) => ({
    logs: logs.filter((_log, i) => i % FOLDS === k),
    habits: learnHabits(logs.filter((_log, i) => i % FOLDS !== k)),
  }));

type Cutting = Parameters<typeof cutsOf>[1];

const judged = (folds: readonly Fold[], cutting?: Cutting): readonly Outcome[] =>
  folds.flatMap(({ logs, habits }) => forecastAll(cutsOf(logs, cutting), oursWith(habits)));

const againstRivals = (logs: readonly RiderLog[], ours: readonly Outcome[]): string => {
  const cuts = cutsOf(logs);
  const rows = RIVALS.map(({ name, forecast }) => scoreRow(name, scoresOf(forecastAll(cuts, forecast))));
  return textTable([SCORE_HEAD, ...rows, scoreRow('ours', scoresOf(ours))]);
};

/** What "never" counts as weighs on forecasts that say it often; so the closest rival is shown under shorter ones too. */
const underShorterHorizons = (chained: readonly Outcome[], ours: readonly Outcome[]): string => {
  const rows = [365, 730].flatMap((horizon) =>
    [
      { name: 'chain × lognormal 0.7', outcomes: chained },
      { name: 'ours', outcomes: ours },
    ].map(({ name, outcomes }) => {
      const capped = outcomes.map((one) => ({
        ...one,
        quantiles: one.quantiles.map((ahead) => Math.min(ahead, horizon)),
      }));
      // A cut-off 90 % day claims nothing, so coverage is not shown.
      return scoreRow(`${name}, ${horizon} days`, scoresOf(capped)).slice(0, 7);
    }),
  );
  return textTable([SCORE_HEAD.slice(0, 7), ...rows]);
};

const byKindOfCut = (logs: readonly RiderLog[], folds: readonly Fold[], ours: readonly Outcome[]): string => {
  const early = { everyDays: 7, fromWeek: 1, toWeek: 27 };
  const rows = [
    scoreRow('first half year (weekly cuts): chain', scoresOf(forecastAll(cutsOf(logs, early), chain(0.7)))),
    scoreRow('first half year (weekly cuts): ours', scoresOf(judged(folds, early))),
    ...KINDS_OF_CUT.flatMap(({ name, is }) => [
      scoreRow(`${name}: chain`, scoresOf(forecastAll(cutsOf(logs).filter(is), chain(0.7)))),
      scoreRow(`${name}: ours`, scoresOf(ours.filter(({ cut }) => is(cut)))),
    ]),
  ];
  return textTable([SCORE_HEAD, ...rows]);
};

const GROUP_HEAD = [
  '',
  'bias',
  'covers',
  'riders drawn anew',
  'riders',
  'median error',
  'before: bias',
  'covers',
];
const byGroup = (ours: readonly Outcome[], before: readonly Outcome[]): string =>
  textTable([
    GROUP_HEAD,
    ...GROUPS.map(({ name, has }) => {
      const [own, earlier] = [scoresOf(ours.filter(has)), scoresOf(before.filter(has))];
      const { share, low, high, riders } = coverageOf(ours.filter(has));
      const interval = `${percent(low)} to ${percent(high)}`;
      return [
        ...[name, signed(own.bias), percent(share), interval, String(riders), own.medianError.toFixed(0)],
        ...[signed(earlier.bias), percent(earlier.coverage)],
      ];
    }),
  ]);

const cameTrue = (outcomes: readonly Outcome[]): string =>
  `Of the 5, 10, 25, 50, 75, 90 and 95 % days came true: ${days(sharesCameTrue(outcomes).map((share) => 100 * share))} %.`;

/** A cut a year and one goal, so that outcomes hardly overlap and the test's trials are nearly independent. */
const independentTest = (folds: readonly Fold[]): string => {
  const outcomes = judged(folds, { everyDays: 364 }).filter((o) => o.goalHours === 25);
  const ranges = settledRanges(outcomes);
  const hits = ranges.filter(isCovered).length;
  return `One cut a year, 25 hours: ${hits} of ${ranges.length} in the range, Kupiec ${kupiec(hits, ranges.length, 0.8).toFixed(2)} (over 3.84 would reject 80 %).`;
};

const learned = (logs: readonly RiderLog[], folds: readonly Fold[]): string => {
  const row = (name: string, habits: RidingHabits): readonly string[] => [
    name,
    ...LEARNED.map((one) => habits[one.name].toFixed(2)),
    days(habits.weekHours, 2),
  ];
  return textTable([
    ['learned from', ...LEARNED.map(({ name }) => name), 'hours of a ride week'],
    ...folds.map(({ habits }, k) => row(`all but every third from ${k + 1}`, habits)),
    row('all riders', learnHabits(logs)),
    row('in the core', HABITS),
  ]);
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

const WAYS = [
  { name: 'daily', everyDays: 1 },
  { name: 'weekly', everyDays: 7 },
  { name: 'every four weeks', everyDays: 28 },
];
/** Nobody is told before; so much less to draw. */
const LAST_HOURS = 20;

const reminders = (folds: readonly Fold[]): string => {
  const rows = WAYS.flatMap(({ name, everyDays }) => {
    const lived = folds.flatMap(({ logs, habits }) =>
      livedIntervals(logs, INTERVALS_PER_RIDER, habits, { hoursAtStart: LAST_HOURS, everyDays }),
    );
    const byDate = timingRow(`files ${name}, middle date only`, 14, timingOf(lived, 14, middleDateOnly));
    const ours = [7, 14, 28].map((noticeDays) =>
      timingRow(`files ${name}`, noticeDays, timingOf(lived, noticeDays, isComingUp)),
    );
    return [byDate, ...ours];
  });
  return textTable([TIMING_HEAD, ...rows]);
};

/** Returns the forecast's scores and the reminders' timing on real riders' logs, as text; says so where there are none. */
export const forecastEvidence = async (): Promise<string> => {
  const folder = process.env.STANCHION_RECORDINGS;
  if (folder === undefined)
    return 'Forecast: no folder of recordings (STANCHION_RECORDINGS), so nothing is shown.';
  const logs = readRidingLogs(folder);
  const folds = foldsOf(logs);
  const ours = judged(folds);
  const rival = (name: string): readonly Outcome[] =>
    forecastAll(cutsOf(logs), RIVALS.find((one) => one.name === name)!.forecast);
  const [before, chained] = [rival('ours before'), rival('chain × lognormal 0.7')];
  return [
    '# When will the hours be reached? Forecasts on real riders',
    `${logs.length} riders, cut every 28 days from 27 weeks on; days until 10, 25 and 50 more moving hours; every rider weighs the same. Goals not reached before a log ends are left out of errors; coverage counts cuts whose log goes on past the 90 % date. "Never" is five years, in every row. Every third rider is judged by habits learned from the others alone.`,
    againstRivals(logs, ours),
    cameTrue(ours),
    independentTest(folds),
    '## By season, share of rest weeks, hours left and weeks known; the interval of coverage is that of riders drawn anew',
    byGroup(ours, before),
    '## The same with a shorter "never"',
    underShorterHorizons(chained, ours),
    '## Figures of an earlier study: 49 riders, these among them; another horizon',
    textTable([['', 'median error', 'relative', 'bias', 'pinball .1/.5/.9', 'covers'], ...EARLIER_STUDY]),
    '## Where it is hard',
    byKindOfCut(logs, folds, ours),
    '## What was learned',
    learned(logs, folds),
    '## Reminders for an interval of 50 hours',
    reminders(folds),
  ].join('\n\n');
};
