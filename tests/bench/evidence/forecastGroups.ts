/** Groups of cuts, and how sure a share is, riders being drawn anew. */

import { dayOfNumber } from '../../../src/core/days/dayNumber.js';
import { restShareOf } from './forecastCuts.js';
import { HIGH, isCovered, LOW, MIDDLE, type Outcome, settledRanges } from './forecastScores.js';
import { type Figure, meanFigure, medianFigure } from './ridersAnew.js';
import { pinball } from './scoringRules.js';

export const SEASONS = ['winter', 'spring', 'summer', 'autumn'] as const;
const seasonOf = ({ cut }: Outcome): string =>
  SEASONS[Math.floor((Number(dayOfNumber(cut.at).slice(5, 7)) % 12) / 3)]!;

const between =
  (value: (outcome: Outcome) => number, from: number, to: number) =>
  (outcome: Outcome): boolean =>
    value(outcome) >= from && value(outcome) < to;
const rest = (outcome: Outcome): number => restShareOf(outcome.cut);
const weeksKnown = (outcome: Outcome): number => outcome.cut.weeksBehind;
const ALL = Number.POSITIVE_INFINITY;

export interface Group {
  readonly name: string;
  readonly has: (outcome: Outcome) => boolean;
}

export const GROUPS: readonly Group[] = [
  { name: 'all', has: () => true },
  ...SEASONS.map((season) => ({ name: season, has: (outcome: Outcome) => seasonOf(outcome) === season })),
  { name: 'rest weeks under 35 %', has: between(rest, 0, 0.35) },
  { name: 'rest weeks 35 to 50 %', has: between(rest, 0.35, 0.5) },
  { name: 'rest weeks 50 to 65 %', has: between(rest, 0.5, 0.65) },
  { name: 'rest weeks over 65 %', has: between(rest, 0.65, ALL) },
  ...[10, 25, 50].map((hours) => ({ name: `${hours} h left`, has: (o: Outcome) => o.goalHours === hours })),
  { name: '27 to 51 weeks known', has: between(weeksKnown, 0, 52) },
  { name: '1 to 2 years known', has: between(weeksKnown, 52, 104) },
  { name: '2 to 4 years known', has: between(weeksKnown, 104, 208) },
  { name: '4 years and more known', has: between(weeksKnown, 208, ALL) },
];

/** Returns the share of 80 % ranges that held, of those whose log goes on past the 90 % day. */
export const coverageOf = (outcomes: readonly Outcome[]): Figure =>
  meanFigure(settledRanges(outcomes).map((o) => ({ rider: o.rider, value: Number(isCovered(o)) })));

const finished = (outcomes: readonly Outcome[]): readonly Outcome[] =>
  outcomes.filter(({ actual }) => Number.isFinite(actual));
const measured = (outcomes: readonly Outcome[], measure: (outcome: Outcome) => number) =>
  finished(outcomes).map((o) => ({ rider: o.rider, value: measure(o) }));

/** Returns by how much the middle date is too late. Units: binary logarithm. */
export const biasOf = (outcomes: readonly Outcome[]): Figure =>
  medianFigure(measured(outcomes, ({ quantiles, actual }) => Math.log2(quantiles[MIDDLE]! / actual)));

/** Returns the median error of the middle date. Units: days. */
export const medianErrorOf = (outcomes: readonly Outcome[]): Figure =>
  medianFigure(measured(outcomes, ({ quantiles, actual }) => Math.abs(quantiles[MIDDLE]! - actual)));

/** Returns the pinball loss of the 10, 50 and 90 % days. Units: days. */
export const pinballOf = (outcomes: readonly Outcome[]): readonly Figure[] =>
  [LOW, MIDDLE, HIGH].map((at) =>
    meanFigure(measured(outcomes, (o) => pinball((at + 1) / 20, o.quantiles[at]!, o.actual))),
  );
