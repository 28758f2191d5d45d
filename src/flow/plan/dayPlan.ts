import { addDays, dayOf } from '../../core/days/calendar.js';
import { jobsOfVisit } from '../../core/plan/leads.js';
import { isOpen } from '../../core/plan/openDays.js';
import { addUp, type PartUse, partsFor } from '../../core/plan/parts.js';
import { usableMinutesOn } from '../../core/plan/slots.js';
import type { ServiceKind } from '../../core/tokens.js';
import type { LeadRow } from '../../ports/leads.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import { type ForeseenUnit, listForeseen, minutesOf } from '../due/foreseen.js';
import { getWorkshop } from '../settings.js';
import { dueKinds } from './dueKinds.js';
import { listJobs, type ShownJob } from './jobs.js';
import { benchOf } from './leadDays.js';
import { listPartRows } from './partsShelf.js';
import { listRacePlans, type RaceJob } from './racePlan.js';

/** Why a unit is on the day's list, in the order in which they are worked through. */
export const DAY_REASONS = ['booked', 'asked-for', 'on-the-bench', 'race', 'over-interval', 'due'] as const;
export type DayReason = (typeof DAY_REASONS)[number];

export interface DayJob {
  readonly one: ForeseenUnit;
  /** Null where a unit is at the workshop and nobody knows what it needs. */
  readonly serviceKind: ServiceKind | null;
  /** Other jobs of the same visit. */
  readonly beside: readonly ServiceKind[];
  readonly reason: DayReason;
  /** The last day for it, where a race sets one. */
  readonly by: Day | null;
  readonly race: string | null;
  readonly wantsShakedown: boolean;
  /** Its history is unknown: it is opened and looked at. */
  readonly isUnknown: boolean;
  /** It is at the workshop for what comes next, of which nothing is due yet. */
  readonly isAhead: boolean;
  readonly minutes: number;
  /** Bench minutes up to and with this job. */
  readonly minutesSoFar: number;
  readonly fits: boolean;
  readonly parts: readonly PartUse[];
}

export interface DayPlan {
  readonly on: Day;
  readonly isOpen: boolean;
  readonly usableMinutes: number;
  readonly jobs: readonly DayJob[];
  /** What the jobs that fit take together. */
  readonly parts: readonly PartUse[];
}

/** `minutes` is null where it follows from the jobs. */
type Bare = Omit<DayJob, 'minutes' | 'minutesSoFar' | 'fits' | 'parts'> & { readonly minutes: number | null };

/**
 * Returns what to pull on a day and in which order. First what is booked for it, what lies on the bench, what races
 * need, the nearest first; then what is over its interval or due on bikes that have no rider to be reminded.
 */
export async function getDayPlan(tx: Tx, now: Instant, wanted?: Day): Promise<DayPlan> {
  const workshop = await getWorkshop(tx);
  const on = wanted ?? dayOf(now, workshop.timeZone);
  const bench = benchOf(workshop);
  const rows = await listPartRows(tx);
  const units = await listForeseen(tx, now);
  const onDay = (await tx.leads.list(['asked-for', 'booked'])).filter((lead) => lead.day === on);
  const leads = new Map(onDay.map((lead) => [lead.unitId, lead]));
  const there = new Map((await listJobs(tx, now)).map((job) => [job.one.unit.id, job]));
  const raceJobs = (await listRacePlans(tx, now)).flatMap((plan) =>
    plan.jobs.map((job) => ({ ...job, race: plan.name })),
  );
  const bare = units
    .flatMap((one): Bare[] => {
      const { id } = one.unit;
      const job = dayJob(one, { lead: leads.get(id), there: there.get(id), raceJobs }, on);
      return job ? [job] : [];
    })
    .sort(inOrder);
  const usableMinutes = usableMinutesOn(bench, on);
  let minutesSoFar = 0;
  const jobs = bare.map((job): DayJob => {
    const { unit } = job.one;
    const all = job.serviceKind === null ? [] : [job.serviceKind, ...job.beside];
    const minutes = job.minutes ?? all.reduce((sum, kind) => sum + minutesOf(job.one, kind), 0);
    const isFirst = minutesSoFar === 0;
    minutesSoFar += minutes;
    return {
      ...job,
      minutes,
      minutesSoFar,
      fits: minutesSoFar <= usableMinutes || (isFirst && usableMinutes > 0),
      parts: all.flatMap((kind) => partsFor(rows, unit, kind)),
    };
  });
  const fitting = jobs.filter((job) => job.fits);
  return {
    on,
    isOpen: isOpen(bench, on),
    usableMinutes,
    jobs,
    parts: addUp(fitting.flatMap((job) => job.parts)),
  };
}

/** *Default*: work for a race is pulled so many days before it must be done. */
const RACE_AHEAD_DAYS = 14;
const isNear = ({ by }: RaceJob, on: Day): boolean => by === null || by <= addDays(on, RACE_AHEAD_DAYS);

/** What is said of a unit that may have to do with a day. */
interface OfUnit {
  /** Its booking for that day. */
  readonly lead: LeadRow | undefined;
  /** Its stay at the workshop. */
  readonly there: ShownJob | undefined;
  readonly raceJobs: readonly (RaceJob & { readonly race: string })[];
}

function dayJob(one: ForeseenUnit, { lead, there, raceJobs }: OfUnit, on: Day): Bare | null {
  const said = { by: null, race: null, wantsShakedown: false, isUnknown: false, isAhead: false };
  const plain = { one, ...said, minutes: null };
  const visit = ([first, ...beside]: readonly ServiceKind[]) => ({ serviceKind: first ?? null, beside });
  const raced = raceJobs.find((job) => job.unitId === one.unit.id && isNear(job, on));
  const race = raced && { by: raced.by, race: raced.race, wantsShakedown: raced.wantsShakedown };
  if (there !== undefined)
    return isFinished(there) ? null : { ...plain, ...race, ...atWorkshop(there, raced) };
  const states = one.foreseen.map(({ standing }) => standing.state);
  if (states.includes('stop-riding')) return null;
  if (lead !== undefined)
    return {
      ...{ ...plain, ...race, ...visit(jobsOfVisit(lead)) },
      reason: lead.state === 'booked' ? 'booked' : 'asked-for',
    };
  if (raced) return { ...plain, ...race, ...visit([raced.serviceKind]), reason: 'race' };
  const due = dueKinds(one, on);
  if (one.bike === null || one.bike.riderId !== null || due.length === 0) return null;
  return { ...plain, ...visit(due), reason: states.includes('over-interval') ? 'over-interval' : 'due' };
}

const isFinished = ({ stay: { job }, isServed }: ShownJob): boolean =>
  isServed || job.step === 'done' || job.step === 'informed';

/** It came for something: what its job says, or what a race needs. */
function atWorkshop(
  { serviceKind, beside, isUnknown, isAhead, minutes }: ShownJob,
  raced: RaceJob | undefined,
): Pick<Bare, 'serviceKind' | 'beside' | 'isUnknown' | 'isAhead' | 'minutes' | 'reason'> {
  const reason = 'on-the-bench';
  if (raced)
    return {
      serviceKind: raced.serviceKind,
      beside: [],
      isUnknown: false,
      isAhead: false,
      minutes: null,
      reason,
    };
  return { serviceKind, beside, isUnknown, isAhead, minutes, reason };
}

function inOrder(a: Bare, b: Bare): number {
  const rank = (job: Bare): number => DAY_REASONS.indexOf(job.reason);
  return (
    rank(a) - rank(b) ||
    ((a.by ?? '9') < (b.by ?? '9') ? -1 : (a.by ?? '9') > (b.by ?? '9') ? 1 : 0) ||
    (a.one.unit.tag < b.one.unit.tag ? -1 : 1)
  );
}
