import { HABITS, type RidingHabits } from '../../../src/core/forecast/ridingHabits.js';
import { isComingUp } from '../../../src/core/ledger/comingUp.js';
import { cutsOf, KINDS_OF_CUT } from './forecastCuts.js';
import { biasOf, coverageOf, GROUPS, medianErrorOf, pinballOf, SEASONS } from './forecastGroups.js';
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
import {
  type LivedInterval,
  livedIntervals,
  middleDateOnly,
  type Timing,
  timingOf,
} from './reminderTiming.js';
import type { Figure } from './ridersAnew.js';
import { type RiderLog, readRidingLogs } from './ridingLogs.js';
import { chain, oursWith, RIVALS } from './rivalForecasts.js';
import { kupiec } from './scoringRules.js';
import { textTable } from './textTable.js';

const INTERVALS_PER_RIDER = 12;

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

/** A figure with its 95 % interval over riders drawn anew. */
const withInterval = ({ value, low, high }: Figure, say: (value: number) => string): string =>
  `${say(value)} (${say(low)} to ${say(high)})`;
const inPercent = (share: number): string => (100 * share).toFixed(0);
const whole = (value: number): string => value.toFixed(0);

const GROUP_HEAD = ['', 'bias', '80 % range covers', 'riders', 'median error', 'before: bias', 'covers'];
const byGroup = (ours: readonly Outcome[], before: readonly Outcome[]): string =>
  textTable([
    GROUP_HEAD,
    ...GROUPS.map(({ name, has }) => {
      const own = ours.filter(has);
      const earlier = scoresOf(before.filter(has));
      const covers = coverageOf(own);
      return [
        name,
        withInterval(biasOf(own), signed),
        withInterval(covers, inPercent),
        String(covers.riders),
        withInterval(medianErrorOf(own), whole),
        signed(earlier.bias),
        percent(earlier.coverage),
      ];
    }),
  ]);

/** Met, where the figure is within what was asked; where not, whether the whole interval lies outside. */
const judgement = ({ value, low, high }: Figure, least: number, most: number): string => {
  if (value >= least && value <= most) return 'met';
  return high < least || low > most ? 'not met' : 'not met, its interval reaches it';
};

const aims = (ours: readonly Outcome[]): string => {
  const of = (name: string): readonly Outcome[] => ours.filter(GROUPS.find((one) => one.name === name)!.has);
  const row = (
    what: string,
    figure: Figure,
    [least, most]: readonly [number, number],
    say: (value: number) => string,
  ): readonly string[] => [what, withInterval(figure, say), judgement(figure, least, most)];
  const [low, middle, high] = pinballOf(ours) as [Figure, Figure, Figure];
  return textTable([
    ['asked', 'found', ''],
    row('median error at most 48 days', medianErrorOf(ours), [0, 48], whole),
    row('pinball .1 at most 15 days', low, [0, 15], whole),
    row('pinball .5 at most 50 days', middle, [0, 50], whole),
    row('pinball .9 at most 32 days', high, [0, 32], whole),
    ...SEASONS.map((season) => row(`bias at most .2: ${season}`, biasOf(of(season)), [-0.2, 0.2], signed)),
    ...GROUPS.map(({ name, has }) =>
      row(`range covers 75 to 88 %: ${name}`, coverageOf(ours.filter(has)), [0.75, 0.88], inPercent),
    ),
  ]);
};

const cameTrue = (outcomes: readonly Outcome[]): string =>
  `Of the 5, 10, 25, 50, 75, 90 and 95 % days came true: ${days(sharesCameTrue(outcomes).map((share) => 100 * share))} %.`;

/** A cut a year and one goal, so that outcomes hardly overlap and the test's trials are nearly independent. */
const independentTest = (folds: readonly Fold[]): string => {
  const outcomes = judged(folds, { everyDays: 364 }).filter((o) => o.goalHours === 25);
  const ranges = settledRanges(outcomes);
  const hits = ranges.filter(isCovered).length;
  return `One cut a year, 25 hours: ${hits} of ${ranges.length} in the range, Kupiec ${kupiec(hits, ranges.length, 0.8).toFixed(2)} (over 3.84 would reject 80 %).`;
};

const BY_REGRESSION = [{ name: 'seasonHours' }, { name: 'seasonPeak' }] as const;

const learned = (logs: readonly RiderLog[], folds: readonly Fold[]): string => {
  const row = (name: string, habits: RidingHabits): readonly string[] => [
    name,
    ...[...LEARNED, ...BY_REGRESSION].map(({ name }) => habits[name].toFixed(2)),
    days(habits.weekHours, 2),
  ];
  return textTable([
    ['learned from', ...[...LEARNED, ...BY_REGRESSION].map(({ name }) => name), 'hours of a ride week'],
    ...folds.map(({ habits }, k) => row(`all but every third from ${k + 1}`, habits)),
    row('all riders', learnHabits(logs)),
    row('in the core', HABITS),
  ]);
};

const TIMING_HEAD = [
  '',
  'passed > 0 h',
  'passed > 2 h, %',
  'days early 10/50/90',
  'hours left 10/50/90',
  'came and went',
  'units',
];
const timingRow = (name: string, t: Timing): readonly string[] => [
  name,
  withInterval(t.passedUnannounced, tenths),
  withInterval(t.passedByTwoHours, tenths),
  `${days(t.daysEarly.map(({ value }) => value))}, median ${withInterval(t.daysEarly[1]!, whole)}`,
  days(
    t.hoursLeft.map(({ value }) => value),
    1,
  ),
  String(t.flapped),
  String(t.intervals),
];
const tenths = (share: number): string => (100 * share).toFixed(1);

const WAYS = [
  { name: 'daily', everyDays: 1 },
  { name: 'weekly', everyDays: 7 },
  { name: 'every four weeks', everyDays: 28 },
];
/** The rule's shares and days were chosen on the other two thirds, so these are judged beside all. */
const LAST_FOLD = FOLDS - 1;

const reminders = (folds: readonly Fold[]): string => {
  const rows = WAYS.flatMap(({ name, everyDays }) => {
    const lived = folds.map(({ logs, habits }) =>
      livedIntervals(logs, INTERVALS_PER_RIDER, habits, { everyDays }),
    );
    const timed = (what: string, of: readonly LivedInterval[], noticeDays: number, rule = isComingUp) =>
      timingRow(`files ${name}, ${what}`, timingOf(of, noticeDays, rule));
    return [
      timed('middle date only', lived.flat(), 14, middleDateOnly),
      ...[7, 14, 28].map((noticeDays) => timed(`notice ${noticeDays} d`, lived.flat(), noticeDays)),
      timed('14 d, third not looked at', lived[LAST_FOLD]!, 14),
    ];
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
    '## What is asked of it, with 95 % intervals over riders drawn anew',
    aims(ours),
    '## Beside other forecasts',
    againstRivals(logs, ours),
    cameTrue(ours),
    independentTest(folds),
    '## By season, share of rest weeks, hours left and weeks known; 95 % intervals over riders drawn anew',
    byGroup(ours, before),
    '## The same with a shorter "never"',
    underShorterHorizons(chained, ours),
    '## Figures of an earlier study: 49 riders, these among them; another horizon',
    textTable([['', 'median error', 'relative', 'bias', 'pinball .1/.5/.9', 'covers'], ...EARLIER_STUDY]),
    '## Where it is hard',
    byKindOfCut(logs, folds, ours),
    '## What was learned',
    learned(logs, folds),
    '## Reminders for intervals of 50 hours, one after another through each log',
    '"Came and went" counts intervals in which the rule alone would have come up and gone back; a stored fact holds it.',
    reminders(folds),
  ].join('\n\n');
};
