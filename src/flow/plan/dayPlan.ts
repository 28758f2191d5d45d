import { addDays, dayOf } from '../../core/days/calendar.js';
import type { Standing } from '../../core/ledger/due.js';
import { type Offer, offersFor } from '../../core/ledger/offer.js';
import { holdsPlace, jobsOfVisit } from '../../core/plan/leads.js';
import { isOpen } from '../../core/plan/openDays.js';
import { addUp, type PartUse, partsFor } from '../../core/plan/parts.js';
import { usableMinutesOn } from '../../core/plan/slots.js';
import { isReached } from '../../core/states.js';
import type { ServiceKind, State } from '../../core/tokens.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import { type ForeseenUnit, listForeseen, minutesOf } from '../due/foreseen.js';
import { getWorkshop } from '../settings.js';
import { benchOf } from './leadDays.js';
import { listPartRows } from './partsShelf.js';
import { listRacePlans, type RaceJob } from './racePlan.js';

/** Why a unit is on the day's list, in the order in which they are worked through. */
export const DAY_REASONS = ['booked', 'on-the-bench', 'race', 'over-interval', 'due'] as const;
export type DayReason = (typeof DAY_REASONS)[number];

export interface DayJob {
  readonly one: ForeseenUnit;
  /** Null where a unit lies on the bench and nothing of it is due. */
  readonly serviceKind: ServiceKind | null;
  /** Other jobs of the same visit. */
  readonly beside: readonly ServiceKind[];
  readonly reason: DayReason;
  /** The last day for it, where a race sets one. */
  readonly by: Day | null;
  readonly race: string | null;
  readonly wantsShakedown: boolean;
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

type Bare = Omit<DayJob, 'minutes' | 'minutesSoFar' | 'fits' | 'parts'>;

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
  const bookedKinds = new Map(
    (await tx.leads.list(['asked-for', 'booked']))
      .filter((lead) => holdsPlace(lead) && lead.day === on)
      .map((lead) => [lead.unitId, jobsOfVisit(lead)]),
  );
  const raceJobs = (await listRacePlans(tx, now)).flatMap((plan) =>
    plan.jobs.map((job) => ({ ...job, race: plan.name })),
  );
  const bare = units
    .flatMap((one): Bare[] => {
      const job = dayJob(one, bookedKinds.get(one.unit.id), raceJobs, on);
      return job ? [job] : [];
    })
    .sort(inOrder);
  const usableMinutes = usableMinutesOn(bench, on);
  let minutesSoFar = 0;
  const jobs = bare.map((job): DayJob => {
    const { unit } = job.one;
    const all = job.serviceKind === null ? [] : [job.serviceKind, ...job.beside];
    const minutes = all.reduce((sum, kind) => sum + minutesOf(job.one, kind), 0);
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

function dayJob(
  one: ForeseenUnit,
  booked: readonly ServiceKind[] | undefined,
  raceJobs: readonly (RaceJob & { readonly race: string })[],
  on: Day,
): Bare | null {
  const plain = { one, by: null, race: null, wantsShakedown: false };
  const visit = ([first, ...beside]: readonly ServiceKind[]) => ({ serviceKind: first ?? null, beside });
  const raced = raceJobs.find((job) => job.unitId === one.unit.id && isNear(job, on));
  const race = raced && { by: raced.by, race: raced.race, wantsShakedown: raced.wantsShakedown };
  const states = one.foreseen.map(({ standing }) => standing.state);
  if (states.includes('stop-riding')) return null;
  if (booked !== undefined) return { ...plain, ...race, ...visit(booked), reason: 'booked' };
  const due = dueKinds(one, on);
  if (states.includes('on-the-bench'))
    return { ...plain, ...race, ...visit(raced ? [raced.serviceKind] : due), reason: 'on-the-bench' };
  if (raced) return { ...plain, ...race, ...visit([raced.serviceKind]), reason: 'race' };
  if (one.bike === null || one.bike.riderId !== null || due.length === 0) return null;
  return { ...plain, ...visit(due), reason: states.includes('over-interval') ? 'over-interval' : 'due' };
}

/** A unit on the bench shows that in place of what its hours say, so its likely day is asked. */
const isDueOn = ({ state, likely }: Standing, on: Day): boolean =>
  isReached(state) || (state === 'on-the-bench' && likely.p50 !== null && likely.p50 <= on);

/** Returns what to offer a unit by a day, the larger job in place of a smaller one; none where nothing is due. */
export function dueOffers({ foreseen }: Pick<ForeseenUnit, 'foreseen'>, on: Day): Offer[] {
  const jobs = foreseen.map(({ standing, restarts }) => {
    const state: State = isDueOn(standing, on) ? 'due' : 'in-time';
    return { standing: { ...standing, state }, restarts };
  });
  return offersFor(jobs, on);
}

/** Returns the jobs that a unit wants by a day; none where nothing is due. */
export const dueKinds = (one: Pick<ForeseenUnit, 'foreseen'>, on: Day): ServiceKind[] =>
  dueOffers(one, on).map(({ serviceKind }) => serviceKind);

function inOrder(a: Bare, b: Bare): number {
  const rank = (job: Bare): number => DAY_REASONS.indexOf(job.reason);
  return (
    rank(a) - rank(b) ||
    ((a.by ?? '9') < (b.by ?? '9') ? -1 : (a.by ?? '9') > (b.by ?? '9') ? 1 : 0) ||
    (a.one.unit.tag < b.one.unit.tag ? -1 : 1)
  );
}
