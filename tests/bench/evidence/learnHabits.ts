import { HABITS, type RidingHabits } from '../../../src/core/forecast/ridingHabits.js';
import { type Cut, cutsOf } from './forecastCuts.js';
import { forecastAll, lossOf } from './forecastScores.js';
import { hoursByWeek, type RiderLog } from './ridingLogs.js';
import { oursWith } from './rivalForecasts.js';
import { weightedQuantile } from './scoringRules.js';
import { seasonOf } from './seasonOf.js';

type Learned =
  | 'apartHalfLife'
  | 'change'
  | 'lately'
  | 'seasonOdds'
  | 'rideShare'
  | 'rideShareWorth'
  | 'seasonShareWorth'
  | 'weekHoursWorth';

/**
 * The habits that the search moves: where it begins, whatever the core holds, and the logarithm of its first step. What
 * is not here was set by judgement.
 */
export const LEARNED: readonly { readonly name: Learned; readonly start: number; readonly step: number }[] = [
  { name: 'apartHalfLife', start: 70, step: 0.4 },
  { name: 'change', start: 0.5, step: 0.3 },
  { name: 'lately', start: 3, step: 0.2 },
  { name: 'seasonOdds', start: 1, step: 0.2 },
  { name: 'rideShare', start: 0.5, step: 0.15 },
  { name: 'rideShareWorth', start: 20, step: 0.5 },
  { name: 'seasonShareWorth', start: 5, step: 0.5 },
  { name: 'weekHoursWorth', start: 6, step: 0.5 },
];

const PATHS = 100;
const ROUNDS = 5;
const CUT_EVERY_DAYS = 84;

const lossWith = (habits: RidingHabits, lessons: readonly Cut[]): number =>
  lossOf(forecastAll(lessons, oursWith(habits, PATHS)));

/** Hours of a ride week: means of ten equal parts, every rider weighing the same. */
const weekHoursOf = (logs: readonly RiderLog[]): readonly number[] => {
  const hours = logs.flatMap((log) => {
    const ridden = hoursByWeek(log).filter((h) => h > 0);
    return ridden.map((h) => [h, 1 / ridden.length] as const);
  });
  return HABITS.weekHours.map((_, i) => weightedQuantile(hours, (i + 0.5) / HABITS.weekHours.length));
};

/**
 * Returns the habits that forecast the logs best, the season of hours as a regression has it: one at a time a step either way, halved where neither helps. The
 * strengths of pooling are among them: they are estimated, not set. Chance is the same for all, so that the search
 * repeats itself.
 */
export const learnHabits = (logs: readonly RiderLog[], everyDays = CUT_EVERY_DAYS): RidingHabits => {
  const lessons = cutsOf(logs, { everyDays });
  const steps = new Map(LEARNED.map(({ name, step }) => [name, step]));
  const begun = Object.fromEntries(LEARNED.map(({ name, start }) => [name, start]));
  let habits: RidingHabits = { ...HABITS, ...begun, ...seasonOf(logs), weekHours: weekHoursOf(logs) };
  let least = lossWith(habits, lessons);
  for (let round = 0; round < ROUNDS; round++) {
    for (const { name } of LEARNED) {
      const step = steps.get(name)!;
      const tries = [step, -step].map((by) => ({ ...habits, [name]: habits[name] * Math.exp(by) }));
      const better = tries.find((tried) => {
        const loss = lossWith(tried, lessons);
        if (loss >= least) return false;
        least = loss;
        return true;
      });
      if (better === undefined) steps.set(name, step / 2);
      else habits = better;
    }
  }
  return habits;
};
