import { HABITS } from '../../../src/core/forecast/ridingHabits.js';
import { hoursByWeek, type RiderLog } from './ridingLogs.js';
import { weightedQuantile } from './scoringRules.js';

/** What a week's chance of a ride is fitted from, in the order of the coefficients; weights of a rider add up to one. */
interface Week {
  readonly features: readonly number[];
  readonly ridden: number;
  readonly weight: number;
}

const fading = (halfLife: number): number => 1 - 2 ** (-1 / halfLife);
const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;

/** How much the weeks around the same one last year differ from the year's mean; nothing without a whole year. */
const seasonOf = (ridden: readonly number[], week: number): number =>
  week < 52
    ? 0
    : mean(ridden.slice(Math.max(0, week - 55), week - 48)) -
      mean(ridden.slice(Math.max(0, week - 55), week));

const weeksOf = (log: RiderLog): readonly Week[] => {
  const ridden = hoursByWeek(log).map((hours) => Number(hours > 0));
  let lately: number = HABITS.rideShare;
  let longRun: number = HABITS.rideShare;
  const weeks = ridden.map((is, week) => {
    const features = [1, ridden[week - 1] ?? 0, lately, longRun, seasonOf(ridden, week)];
    lately += fading(HABITS.latelyHalfLife) * (is - lately);
    longRun += fading(HABITS.longRunHalfLife) * (is - longRun);
    return { features, ridden: is, weight: 1 / ridden.length };
  });
  // The first week of a log holds a ride by construction.
  return weeks.slice(1);
};

/** Solves a small linear system by elimination with pivots. Shape: rows with the right side last. */
const solve = (rows: number[][]): readonly number[] => {
  const n = rows.length;
  for (let i = 0; i < n; i++) {
    const pivot = rows.reduce(
      (best, row, j) => (j > i && Math.abs(row[i]!) > Math.abs(rows[best]![i]!) ? j : best),
      i,
    );
    [rows[i], rows[pivot]] = [rows[pivot]!, rows[i]!];
    for (let j = 0; j < n; j++) {
      if (j === i) continue;
      const factor = rows[j]![i]! / rows[i]![i]!;
      rows[j] = rows[j]!.map((value, k) => value - factor * rows[i]![k]!);
    }
  }
  return rows.map((row, i) => row[n]! / row[i]!);
};

const chance = (features: readonly number[], at: readonly number[]): number =>
  1 / (1 + Math.exp(-features.reduce((sum, x, i) => sum + x * at[i]!, 0)));

/** Logistic regression by Newton's steps, with a ridge too small to be seen in two decimals. */
const fit = (weeks: readonly Week[]): readonly number[] => {
  const ridge = 1e-4;
  const k = weeks[0]!.features.length;
  let at: readonly number[] = Array<number>(k).fill(0);
  for (let step = 0; step < 25; step++) {
    const rows = Array.from({ length: k }, (_, i) =>
      Array.from({ length: k + 1 }, (_, j) => (i === j ? ridge : j === k ? -ridge * at[i]! : 0)),
    );
    for (const { features, ridden, weight } of weeks) {
      const p = chance(features, at);
      features.forEach((x, i) => {
        const row = rows[i]!;
        features.forEach((y, j) => {
          row[j] = row[j]! + weight * p * (1 - p) * x * y;
        });
        row[k] = row[k]! + weight * (ridden - p) * x;
      });
    }
    const move = solve(rows);
    at = at.map((value, i) => value + move[i]!);
  }
  return at;
};

/** What the logs teach, to be held against the constants in the core. */
export interface LearnedHabits {
  /** Base, week before, lately, long run, season. */
  readonly coefficients: readonly number[];
  readonly weekHours: readonly number[];
  readonly rideShare: number;
}

export const learnHabits = (logs: readonly RiderLog[]): LearnedHabits => {
  const hours = logs.flatMap((log) => {
    const ridden = hoursByWeek(log).filter((h) => h > 0);
    return ridden.map((h) => [h, 1 / ridden.length] as const);
  });
  return {
    coefficients: fit(logs.flatMap(weeksOf)),
    weekHours: HABITS.weekHours.map((_, i) => weightedQuantile(hours, (i + 0.5) / HABITS.weekHours.length)),
    rideShare: mean(logs.map((log) => mean(hoursByWeek(log).map((h) => Number(h > 0))))),
  };
};
