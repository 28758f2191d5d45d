import { type Cut, GOAL_HOURS } from './forecastCuts.js';
import { type Forecaster, HORIZON_DAYS } from './rivalForecasts.js';
import { pinball, weightedQuantile, winkler } from './scoringRules.js';

/** One forecast of one goal beside what came. */
export interface Outcome {
  readonly cut: Cut;
  readonly rider: string;
  readonly goalHours: number;
  readonly daysAhead: number;
  /** At 5, 10, … 95 %. */
  readonly quantiles: readonly number[];
  readonly actual: number;
}

export const forecastAll = (cuts: readonly Cut[], forecast: Forecaster): readonly Outcome[] =>
  cuts.flatMap((cut) =>
    GOAL_HOURS.map((goalHours, i) => ({
      cut,
      rider: cut.rider,
      goalHours,
      daysAhead: cut.daysAhead,
      quantiles: forecast(cut, goalHours),
      actual: cut.daysUntil[i]!,
    })),
  );

/** Means over riders who weigh the same. Units: days, but for relative, bias (log2, + too late) and shares. */
export interface Scores {
  readonly medianError: number;
  readonly relative: number;
  readonly bias: number;
  readonly pinball: readonly [number, number, number];
  /** From 19 quantiles. */
  readonly crps: number;
  readonly winkler: number;
  /** Share of outcomes in the 10–90 % range, of those whose log goes on past the 90 % day. */
  readonly coverage: number;
  readonly cuts: number;
  readonly coverageCuts: number;
}

/** Returns the value of each outcome with its weight, every rider's adding up to one. */
const perRider = (
  outcomes: readonly Outcome[],
  measure: (outcome: Outcome) => number,
): readonly (readonly [number, number])[] => {
  const counts = new Map<string, number>();
  for (const { rider } of outcomes) counts.set(rider, (counts.get(rider) ?? 0) + 1);
  return outcomes.map((outcome) => [measure(outcome), 1 / counts.get(outcome.rider)!] as const);
};

export const meanOf = (outcomes: readonly Outcome[], measure: (outcome: Outcome) => number): number => {
  const pairs = perRider(outcomes, measure);
  const weight = pairs.reduce((sum, [, w]) => sum + w, 0);
  return pairs.reduce((sum, [value, w]) => sum + value * w, 0) / weight;
};

const medianOf = (outcomes: readonly Outcome[], measure: (outcome: Outcome) => number): number =>
  weightedQuantile(perRider(outcomes, measure), 0.5);

export const LOW = 1;
export const MIDDLE = 9;
export const HIGH = 17;

/** Only outcomes whose log goes on past the day say whether it came true; to choose by the outcome would flatter. */
export const settledBy = (outcomes: readonly Outcome[], quantile: number): readonly Outcome[] =>
  outcomes.filter(
    ({ quantiles, daysAhead }) => quantiles[quantile]! < HORIZON_DAYS && daysAhead >= quantiles[quantile]!,
  );

export const isCovered = ({ quantiles, actual }: Outcome): boolean =>
  actual >= quantiles[LOW]! && actual <= quantiles[HIGH]!;

export const settledRanges = (outcomes: readonly Outcome[]): readonly Outcome[] => settledBy(outcomes, HIGH);

/** Share of the 5, 10, 25, 50, 75, 90 and 95 % days by which the goal had been reached. */
export const sharesCameTrue = (outcomes: readonly Outcome[]): readonly number[] =>
  [0, LOW, 4, MIDDLE, 14, HIGH, 18].map((q) =>
    meanOf(settledBy(outcomes, q), ({ quantiles, actual }) => Number(actual <= quantiles[q]!)),
  );

/**
 * The mean pinball loss at 19 quantiles in logarithms of days, where what the log does not live to see is cut off; and,
 * of what it lived to see, the losses at 10, 50 and 90 % in days, which weigh far dates.
 */
export const lossOf = (outcomes: readonly Outcome[]): number => {
  const finished = outcomes.filter(({ actual }) => Number.isFinite(actual));
  const inLogarithms = meanOf(outcomes, ({ quantiles, actual, daysAhead }) => {
    const log = (days: number): number => Math.log(Math.min(days, daysAhead + 1, HORIZON_DAYS));
    return quantiles.reduce((sum, q, i) => sum + pinball((i + 1) / 20, log(q), log(actual)), 0) / 19;
  });
  const inDays = [LOW, MIDDLE, HIGH].reduce((sum, q) => sum + meanPinball(finished, q), 0);
  return inLogarithms + DAYS_AGAINST_LOGARITHMS * inDays;
};

const DAYS_AGAINST_LOGARITHMS = 0.0002;

const meanPinball = (outcomes: readonly Outcome[], index: number): number =>
  meanOf(outcomes, ({ quantiles, actual }) => pinball((index + 1) / 20, quantiles[index]!, actual));

export const scoresOf = (outcomes: readonly Outcome[]): Scores => {
  const finished = outcomes.filter(({ actual }) => Number.isFinite(actual));
  const ranges = settledRanges(outcomes);
  const error = ({ quantiles, actual }: Outcome): number => Math.abs(quantiles[MIDDLE]! - actual);
  const quantileLosses = Array.from({ length: 19 }, (_, i) => meanPinball(finished, i));
  return {
    medianError: medianOf(finished, error),
    relative: medianOf(finished, (outcome) => error(outcome) / outcome.actual),
    bias: medianOf(finished, ({ quantiles, actual }) => Math.log2(quantiles[MIDDLE]! / actual)),
    pinball: [quantileLosses[LOW]!, quantileLosses[MIDDLE]!, quantileLosses[HIGH]!],
    crps: quantileLosses.reduce((sum, loss) => sum + 2 * loss, 0) / quantileLosses.length,
    winkler: meanOf(finished, ({ quantiles, actual }) =>
      winkler(quantiles[LOW]!, quantiles[HIGH]!, 0.2, actual),
    ),
    coverage: meanOf(ranges, (outcome) => Number(isCovered(outcome))),
    cuts: finished.length,
    coverageCuts: ranges.length,
  };
};
