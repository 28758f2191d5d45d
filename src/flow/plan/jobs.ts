import { dayOf } from '../../core/days/calendar.js';
import type { Fact } from '../../core/ledger/facts.js';
import { jobsOf } from '../../core/ledger/serviceKinds.js';
import { type Stay, stayOf } from '../../core/ledger/stay.js';
import { isLive, jobsOfVisit } from '../../core/plan/leads.js';
import type { ServiceKind } from '../../core/tokens.js';
import type { LeadRow } from '../../ports/leads.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import { type ForeseenUnit, listForeseenOf, minutesOf } from '../due/foreseen.js';
import { stopReasons } from '../due/namedRows.js';
import { type JobQuestion, questionOf } from '../facts/jobQuestions.js';
import { findBikeBefore } from '../facts/jobs.js';
import { bikeNow } from '../mail/bikeNow.js';
import { type ShownPhoto, shownPhotos } from '../photos/photos.js';
import { getWorkshop, listAddedKinds } from '../settings.js';
import { dueKinds } from './dueKinds.js';
import { isReached } from './listLeads.js';

/** A unit at the workshop, with what people want to know who work on it. */
export interface ShownJob {
  readonly one: ForeseenUnit;
  readonly stay: Stay;
  readonly rider: {
    readonly id: string;
    readonly handle: string;
    readonly name: string;
    readonly phone: string | null;
    /** A mail reaches them. */
    readonly isMailed: boolean;
  } | null;
  /** What it comes for, of which nothing is due what comes next; null where its history is unknown. */
  readonly serviceKind: ServiceKind | null;
  /** Other jobs of the same visit. */
  readonly beside: readonly ServiceKind[];
  readonly isUnknown: boolean;
  /** Nothing is due: it is for what would come next. */
  readonly isAhead: boolean;
  /** What it came for is logged: nothing is left to do. */
  readonly isServed: boolean;
  /** Bench time that is still to come. */
  readonly minutes: number;
  /** Why it must not be ridden; null where it may. */
  readonly stopWhy: string | null;
  /** What was done since it arrived. */
  readonly did: readonly ServiceKind[];
  /** Earlier services here after which it may come back, newest first. */
  readonly before: readonly { readonly serviceKind: ServiceKind; readonly on: Day }[];
  /** The service that comes next, by likely day. */
  readonly next: { readonly serviceKind: ServiceKind; readonly day: Day } | null;
  /** The bike that it goes back on, where it is on none. */
  readonly backTo: string | null;
  /** What its rider was asked last in this stay, with the answer; null where nothing was. */
  readonly question: JobQuestion | null;
  /** Jobs of it that may be asked for. */
  readonly jobs: readonly ServiceKind[];
  /** Photographs that wait for its service. */
  readonly photos: readonly ShownPhoto[];
}

/** Longer ago nobody would call it a comeback. */
const MOST_BEFORE = 5;

/** Units of which one state or the other says that they may be at the workshop. */
const listThere = (tx: Tx): Promise<readonly string[]> =>
  tx.standings.listUnitsIn(['on-the-bench', 'stop-riding']);

/** Returns the jobs that have not ended: what is promised first, and then what came first. */
export async function listJobs(tx: Tx, now: Instant): Promise<ShownJob[]> {
  const shown = await jobsOfUnits(tx, now, await listThere(tx));
  const key = ({ stay: { job }, one }: ShownJob): string =>
    `${job.promisedFor ?? '9'} ${job.arrivedOn} ${one.unit.tag}`;
  return shown.sort((a, b) => (key(a) < key(b) ? -1 : 1));
}

/** Returns the job of a unit that has not ended. */
export const findJob = async (tx: Tx, now: Instant, unitId: string): Promise<ShownJob | null> =>
  (await jobsOfUnits(tx, now, [unitId]))[0] ?? null;

async function jobsOfUnits(tx: Tx, now: Instant, unitIds: readonly string[]): Promise<ShownJob[]> {
  const { timeZone } = await getWorkshop(tx);
  const jobs = await tx.facts.listMany('job', unitIds);
  const benches = await tx.facts.listMany('bench', unitIds);
  const stays = new Map<string, Stay>();
  for (const unitId of unitIds) {
    const ofUnit = <F extends Fact<'job'> | Fact<'bench'>>(facts: readonly F[]): F[] =>
      facts.filter(({ body }) => body.unitId === unitId);
    const stay = stayOf(ofUnit(jobs), ofUnit(benches), timeZone);
    if (stay !== null) stays.set(unitId, stay);
  }
  const services = await tx.facts.listMany('service', [...stays.keys()]);
  const asked = await tx.facts.listMany('jobQuestion', [...stays.keys()]);
  const added = await listAddedKinds(tx);
  const photos = await tx.facts.listMany('photo', [...stays.keys()]);
  const units = await listForeseenOf(tx, now, [...stays.keys()]);
  const owners = new Map<string, string>();
  for (const { unit } of units) {
    const { riderId } = await bikeNow(tx, unit.id, now, timeZone);
    if (riderId !== null) owners.set(unit.id, riderId);
  }
  const riderIds = [...new Set(owners.values())];
  const contacts = new Map((await tx.contacts.listOf(riderIds)).map((one) => [one.riderId, one]));
  const handles = await tx.handles.listOf('rider', riderIds);
  const stopped = await stopReasons(tx, [...stays.keys()]);
  const shown: ShownJob[] = [];
  for (const one of units) {
    const { id } = one.unit;
    const stay = stays.get(id)!;
    const lead = (await tx.leads.listOfUnit(id)).find((each) => isLive(each) && each.day !== null);
    const did = services
      .filter(({ body }) => body.unitId === id && body.by === 'here' && body.on >= stay.job.arrivedOn)
      .map(({ body }) => body.serviceKind);
    const contact = contacts.get(owners.get(id) ?? '');
    const before = services
      .filter(({ body }) => body.unitId === id && body.by === 'here' && body.on < stay.job.arrivedOn)
      .map(({ body: { serviceKind, on } }) => ({ serviceKind, on }))
      .sort((a, b) => (a.on < b.on ? 1 : -1))
      .slice(0, MOST_BEFORE);
    const bikeId = await findBikeBefore(tx, id, now);
    const bikeBefore = bikeId === null ? undefined : await tx.facts.current('bike', bikeId);
    shown.push({
      ...{ one, stay, did, before, ...comesFor(one, stay, lead, did.length > 0, dayOf(now, timeZone)) },
      rider: contact
        ? {
            id: contact.riderId,
            handle: handles.get(contact.riderId) ?? '',
            name: contact.name,
            phone: contact.phone,
            isMailed: isReached(contact),
          }
        : null,
      stopWhy: stopped.get(id) ?? null,
      next: nextOf(one),
      question: questionOf(
        asked.filter(({ body }) => body.unitId === id),
        stay.job.arrivedOn,
      ),
      jobs: jobsOf(one.unit, added),
      backTo: bikeBefore?.body.name ?? null,
      photos: shownPhotos(
        photos.filter(({ body }) => body.unitId === id),
        services,
      ).filter(({ serviceId }) => serviceId === null),
    });
  }
  return shown;
}

/**
 * Nobody knows what a unit of unknown history needs: time for all of it is held. Of a unit of which nothing is due, time
 * is held for what comes next: nobody brings it for nothing.
 */
function comesFor(
  one: ForeseenUnit,
  { job: { step } }: Stay,
  lead: LeadRow | undefined,
  isLogged: boolean,
  today: Day,
): Pick<ShownJob, 'serviceKind' | 'beside' | 'isUnknown' | 'isAhead' | 'isServed' | 'minutes'> {
  const isUnknown = one.foreseen.every(({ standing }) => isOpenEnded(standing));
  const due = lead ? jobsOfVisit(lead) : dueKinds(one, today);
  const isServed = isLogged && due.length === 0;
  const isAhead = due.length === 0 && !isUnknown && !isServed;
  const visit = isAhead ? [nextKind(one)].filter((kind) => kind !== null) : due;
  const [serviceKind = null, ...beside] = visit;
  const all = Math.max(0, ...one.foreseen.map(({ benchMinutes }) => benchMinutes));
  const minutes = serviceKind === null ? all : visit.reduce((sum, kind) => sum + minutesOf(one, kind), 0);
  const isToCome = step !== 'done' && step !== 'informed' && !isServed;
  const isInspect = isUnknown && serviceKind === null && !isServed;
  return { serviceKind, beside, isUnknown: isInspect, isAhead, isServed, minutes: isToCome ? minutes : 0 };
}

/** What comes next by likely day; where no day is foretold, what has the fewest hours left. */
function nextKind(one: ForeseenUnit): ServiceKind | null {
  const left = ({ standing }: ForeseenUnit['foreseen'][number]): number =>
    standing.hoursLeft ?? Number.POSITIVE_INFINITY;
  const nearest = [...one.foreseen].sort((a, b) => left(a) - left(b))[0];
  return nextOf(one)?.serviceKind ?? nearest?.standing.serviceKind ?? null;
}

const isOpenEnded = ({ hoursLeft, likely }: ForeseenUnit['foreseen'][number]['standing']): boolean =>
  hoursLeft === null && likely.p50 === null;

function nextOf({ foreseen }: ForeseenUnit): ShownJob['next'] {
  const days = foreseen.flatMap(({ standing: { serviceKind, likely } }) =>
    likely.p50 === null ? [] : [{ serviceKind, day: likely.p50 }],
  );
  return days.sort((a, b) => (a.day < b.day ? -1 : 1))[0] ?? null;
}
