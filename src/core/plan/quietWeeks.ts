/** Weeks with room on the bench before the busy months, and whom to invite into one. */
import type { Day } from '../../units.js';
import { addDays, addMonths, earlierDay } from '../days/calendar.js';
import { monthsEnd } from '../forecast/dueChance.js';
import { warmMonths } from '../forecast/hemisphere.js';
import { pressingRank } from '../states.js';
import type { InvitedOutcome, ServiceKind, State } from '../tokens.js';
import type { BenchWeek } from './benchWeeks.js';
import { expectedJobs, type JobsInput } from './expectedJobs.js';

/** *Default*: a week is quiet while at most this share of it is expected to be used. */
const QUIET_SHARE = 0.5;
/** From this chance on a service is likely due. */
const LIKELY = 0.5;

const monthOf = (day: Day): number => Number(day.slice(5, 7));

/** The busy months that follow a day. */
export interface Winter {
  /** Their first day, by which a winter is known. */
  readonly before: Day;
  /** The last day of the first of them: what is due by then would stand in its queue. */
  readonly dueBy: Day;
}

/** Returns the winter that a day lies in; null in the months in which most ride. */
export function winterOf(zone: string, day: Day): Winter | null {
  const warm = warmMonths(zone, day);
  if (warm.includes(monthOf(day))) return null;
  const firstOfMonth = `${day.slice(0, 7)}-01` as Day;
  let before = firstOfMonth;
  while (!warm.includes(monthOf(before))) before = addMonths(before, 1);
  return { before, dueBy: addDays(addMonths(before, 1), -1) };
}

/** Returns whether a week has room and lies before the busy months. */
export function isQuiet(week: BenchWeek, zone: string): boolean {
  if (week.openDays === 0 || week.usableMinutes === 0 || week.isCrowded) return false;
  const ends = [winterOf(zone, week.from), winterOf(zone, week.to)];
  if (ends.includes(null)) return false;
  const hasPlaces = week.places === null || week.services.mean <= week.places * QUIET_SHARE;
  return hasPlaces && week.minutes.mean <= week.usableMinutes * QUIET_SHARE;
}

/** A job that is worth a place in a quiet week. */
export interface QuietJob {
  readonly serviceKind: ServiceKind;
  /** What of it falls due first, and its service period. */
  readonly wanted: ServiceKind;
  readonly periodId: string;
  readonly state: State;
  /** When it is likely due; null where only the chance is known. */
  readonly likely: Day | null;
  readonly chance: number;
}

/** Returns the job that a unit is likely due for by a day, the most likely one; null where none is. */
export function quietJob(of: Omit<JobsInput, 'weekEnds'> & { readonly by: Day }): QuietJob | null {
  const jobs = expectedJobs({ ...of, weekEnds: [of.by] });
  const best = [...jobs].sort((a, b) => b.dueBy[0]! - a.dueBy[0]! || b.wanted.length - a.wanted.length)[0];
  if (!best || best.dueBy[0]! < LIKELY) return null;
  const [first] = of.foreseen
    .filter(({ standing }) => best.wanted.includes(standing.serviceKind))
    .map(({ standing }) => ({
      standing,
      likely: earlierDay(standing.likely.p50, monthsEnd(standing)),
    }))
    .sort((a, b) => byUrgency({ ...a.standing, likely: a.likely }, { ...b.standing, likely: b.likely }));
  const { serviceKind: wanted, periodId, state } = first!.standing;
  return {
    serviceKind: best.serviceKind,
    ...{ wanted, periodId, state },
    likely: first!.likely,
    chance: best.dueBy[0]!,
  };
}

const NEVER = '9999-12-31';

/** For the order of jobs: what presses first, then by likely day. */
export const byUrgency = (
  a: Pick<QuietJob, 'state' | 'likely'>,
  b: Pick<QuietJob, 'state' | 'likely'>,
): number =>
  pressingRank(a.state) - pressingRank(b.state) || ((a.likely ?? NEVER) < (b.likely ?? NEVER) ? -1 : 1);

/** Returns how many of the jobs, in their order, a week has room for beside what is expected in it. */
export function fitsIn(week: BenchWeek, minutes: readonly number[]): number {
  const places = week.places === null ? minutes.length : Math.floor(week.places - week.services.mean);
  let left = week.usableMinutes - week.minutes.mean;
  const tooMany = minutes.findIndex((one) => {
    left -= one;
    return left < 0;
  });
  return Math.max(0, Math.min(places, tooMany === -1 ? minutes.length : tooMany));
}

/** What is known of an invited unit since it was chosen. */
export interface Since {
  readonly isDone: boolean;
  readonly hasDay: boolean;
  readonly isNotNow: boolean;
  /** Its mail was handed over, cannot go, or is still to go. */
  readonly mail: 'handed-over' | 'cannot' | 'to-go';
}

/** Returns what came of an invitation, the furthest first. */
export function cameOf({ isDone, hasDay, isNotNow, mail }: Since): InvitedOutcome {
  if (isDone) return 'done';
  if (hasDay) return 'booked';
  if (isNotNow) return 'not-now';
  if (mail === 'handed-over') return 'told';
  return mail === 'cannot' ? 'to-call' : 'waits';
}
