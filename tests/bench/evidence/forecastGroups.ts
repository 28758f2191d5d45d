/** Groups of cuts, and how sure a share is, riders being drawn anew. */

import { seededRandom } from '../../../src/core/chance/seededRandom.js';
import { dayOfNumber } from '../../../src/core/days/dayNumber.js';
import { restShareOf } from './forecastCuts.js';
import { isCovered, type Outcome, settledRanges } from './forecastScores.js';

const SEASONS = ['winter', 'spring', 'summer', 'autumn'] as const;
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

const DRAWS = 400;

/** The share of 80 % ranges that held, its 95 % interval over riders drawn anew, and how many riders there are. */
export interface Coverage {
  readonly share: number;
  readonly low: number;
  readonly high: number;
  readonly riders: number;
}

export const coverageOf = (outcomes: readonly Outcome[]): Coverage => {
  const byRider = new Map<string, { hits: number; of: number }>();
  for (const outcome of settledRanges(outcomes)) {
    const rider = byRider.get(outcome.rider) ?? { hits: 0, of: 0 };
    rider.hits += Number(isCovered(outcome));
    rider.of += 1;
    byRider.set(outcome.rider, rider);
  }
  const shares = [...byRider.values()].map(({ hits, of }) => hits / of);
  const random = seededRandom('riders drawn anew');
  const mean = (values: readonly number[]): number =>
    values.reduce((sum, value) => sum + value, 0) / values.length;
  const drawn = Array.from({ length: DRAWS }, () =>
    mean(shares.map(() => shares[Math.floor(random() * shares.length)]!)),
  ).sort((a, b) => a - b);
  return {
    share: mean(shares),
    low: drawn[Math.floor(0.025 * DRAWS)]!,
    high: drawn[Math.floor(0.975 * DRAWS)]!,
    riders: shares.length,
  };
};
