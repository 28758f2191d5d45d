import type { Day } from '../../units.js';
import { type Chance, chanceAbove, type Spread, spreadOf, totalsOf } from '../chance/poissonBinomial.js';
import { addDays } from '../days/calendar.js';
import { mondayOf, openDaysIn } from './openDays.js';
import { type Bench, minutesOn, USED_SHARE } from './slots.js';

/** *Default*: of riders who are reminded, how many come. Common practice, no source; a workshop sets its own. */
export const RESPONSE_SHARE = 0.5;
/** From this chance on a week is called crowded. */
const CROWDED = 0.5;

/** A job as the bench sees it. */
export interface BenchJob {
  readonly minutes: number;
  /** The chance that whoever has the unit comes when it is due. */
  readonly response: number;
  /** A day is booked or asked for: it is certain. */
  readonly isBooked: boolean;
  /** The chance that it has fallen due by the end of each week. */
  readonly dueBy: readonly number[];
}

export interface Week {
  readonly from: Day;
  readonly to: Day;
}

export interface BenchWeek extends Week {
  readonly openDays: number;
  /** Services expected to fall due in it, whoever comes. */
  readonly due: number;
  /** How many of them have a day already. */
  readonly booked: number;
  /** Services expected on the bench. */
  readonly services: Spread;
  readonly minutes: Spread;
  /** Null for no bound but the minutes. */
  readonly places: number | null;
  readonly usableMinutes: number;
  /** The chance that more comes than it has places or minutes for, whichever is likelier. */
  readonly chanceTooFull: number;
  readonly isCrowded: boolean;
}

/** Returns the weeks from today's on, Monday to Sunday; the first one begins today. */
export function weeksFrom(today: Day, count: number): Week[] {
  const monday = mondayOf(today);
  return Array.from({ length: count }, (_, i) => ({
    from: i === 0 ? today : addDays(monday, 7 * i),
    to: addDays(monday, 7 * i + 6),
  }));
}

/** Returns the chance that each job falls due within a week, times the chance that it comes. */
export const comingIn = (job: Pick<BenchJob, 'dueBy' | 'response'>, week: number): number =>
  job.response * dueIn(job, week);

const dueIn = ({ dueBy }: Pick<BenchJob, 'dueBy'>, week: number): number =>
  Math.max(0, dueBy[week]! - (week === 0 ? 0 : dueBy[week - 1]!));

/**
 * Returns what each week holds for the bench. Jobs of different units come independently of each other; who comes,
 * comes in the week in which the service falls due, and what is due already in the first one.
 */
export function benchWeeks(bench: Bench, jobs: readonly BenchJob[], weeks: readonly Week[]): BenchWeek[] {
  return weeks.map((week, at) => {
    const chances = jobs.map((job) => ({ chance: comingIn(job, at), size: 1, minutes: job.minutes }));
    const services = totalsOf(chances);
    const minutes = totalsOf(chances.map(({ chance, minutes: size }): Chance => ({ chance, size })));
    const openDays = openDaysIn(bench, week.from, week.to);
    const benchMinutes = openDays.reduce((sum, day) => sum + minutesOn(bench, day), 0);
    const usableMinutes = Math.round(benchMinutes * USED_SHARE);
    const tooMany = bench.placesAWeek === null ? 0 : chanceAbove(services, bench.placesAWeek);
    const chanceTooFull = Math.max(tooMany, chanceAbove(minutes, usableMinutes));
    return {
      ...week,
      openDays: openDays.length,
      due: jobs.reduce((sum, job) => sum + dueIn(job, at), 0),
      booked: jobs.filter((job) => job.isBooked && dueIn(job, at) > 0).length,
      services: spreadOf(services),
      minutes: spreadOf(minutes),
      places: bench.placesAWeek,
      usableMinutes,
      chanceTooFull,
      isCrowded: chanceTooFull >= CROWDED,
    };
  });
}
