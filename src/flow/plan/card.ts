import { dayOf } from '../../core/days/calendar.js';
import type { Fact, SetUpFact } from '../../core/ledger/facts.js';
import type { JobNearness } from '../../core/ledger/offer.js';
import { type AddedServiceKind, jobsOf } from '../../core/ledger/serviceKinds.js';
import type { UnitSheet } from '../../core/ledger/sheet.js';
import { isLive } from '../../core/plan/leads.js';
import { addUp, type PartUse, partsFor } from '../../core/plan/parts.js';
import type { SecondLook, ServiceKind } from '../../core/tokens.js';
import { ServiceError } from '../../errors.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import { getUnitSheet } from '../counter/sheets.js';
import { type ForeseenUnit, listForeseenOf } from '../due/foreseen.js';
import { listCharged } from '../due/listCharged.js';
import { listPartAges, type PartAge } from '../due/partAges.js';
import { type Advised, listAdvised } from '../facts/jobQuestions.js';
import { getIdOf } from '../names.js';
import { listPhotos, type ShownPhoto } from '../photos/photos.js';
import { listFormer } from '../rides/formerRides.js';
import { getWorkshop, listAddedKinds } from '../settings.js';
import { getUnitLedger } from '../unitLedger.js';
import { dueOffers } from './dueKinds.js';
import { listPartRows } from './partsShelf.js';
import { listSetUps } from './setUps.js';

const SERVICES_SHOWN = 2;
const RIDES_LOOKED_AT = 100;

/** All that a bench card says of a unit. */
export interface Card {
  readonly one: ForeseenUnit;
  /** What is to be done; null where that is for the technician to tick. */
  readonly job: ServiceKind | null;
  /** Other jobs of the same visit. */
  readonly beside: readonly ServiceKind[];
  /** Why the job takes the place of a smaller one that alone is wanted; null where it does not. */
  readonly because: JobNearness | null;
  readonly parts: readonly PartUse[];
  /** The newest first. */
  readonly services: readonly Fact<'service'>[];
  readonly ages: readonly PartAge[];
  /** Oils, volumes, torques and pressures as the workshop typed them for this unit. */
  readonly spec: Readonly<Record<string, string>>;
  /** What its model's manual says, as somebody typed it. */
  readonly sheet: UnitSheet;
  /** Advised at an earlier visit, and not wanted then. */
  readonly advised: readonly Advised[];
  /** How it came, to be set back to; else how it left last. */
  readonly setUp: SetUpFact | null;
  readonly secondLook: readonly SecondLook[];
  /** Whose it is. */
  readonly owner: string | null;
  /** The crash mark in force. */
  readonly mark: Fact<'mark'> | null;
  readonly addedKinds: readonly AddedServiceKind[];
  /** Of its latest rides, those that an earlier reader read and whose file is no longer kept. */
  readonly formerRides: number;
  /** Those that wait for the service, and those of the services shown. */
  readonly photos: readonly ShownPhoto[];
}

/** Returns the card of one unit for the job that is wanted, else for what it comes for. Errors: `not-found`. */
export async function getCardPage(
  tx: Tx,
  tag: string,
  { now, wanted }: { readonly now: Instant; readonly wanted: string | undefined },
): Promise<Card> {
  const [one] = await listForeseenOf(tx, now, [await getIdOf(tx, 'unit', tag)]);
  if (!one) throw new ServiceError('not-found', `There is no unit ${tag}.`);
  const addedKinds = await listAddedKinds(tx);
  const job = jobsOf(one.unit, addedKinds).find((name) => name === wanted);
  const { timeZone } = await getWorkshop(tx);
  const visit = job === undefined ? await findVisit(tx, one, dayOf(now, timeZone)) : visitOf(job);
  return getCard(tx, one, visit, now);
}

export async function getCard(
  tx: Tx,
  one: ForeseenUnit,
  { job, beside, because }: BenchVisit,
  now: Instant,
): Promise<Card> {
  const jobs = job === null ? [] : [job, ...beside];
  const rows = await listPartRows(tx);
  const { id } = one.unit;
  const workshop = await getWorkshop(tx);
  const unit = (await tx.facts.current('unit', id))!.body;
  const ledger = await getUnitLedger(tx, id, workshop.timeZone);
  const of = { subject: id };
  const services = [...(await tx.facts.list('service', of))].sort(newestFirst).slice(0, SERVICES_SHOWN);
  const shown = new Set([null, ...services.map(({ entityId }) => entityId)]);
  const riderId = one.bike?.riderId ?? null;
  const latest = (await listCharged(tx, ledger, now, RIDES_LOOKED_AT)).map(({ ride }) => ride);
  const setUps = await listSetUps(tx, id);
  const mark = (await tx.facts.list('mark', of)).at(-1);
  return {
    one,
    ...{ job, beside, because },
    parts: addUp(jobs.flatMap((kind) => partsFor(rows, one.unit, kind))),
    services,
    photos: (await listPhotos(tx, id)).filter(({ serviceId }) => shown.has(serviceId)),
    ages: await listPartAges(tx, ledger, now),
    spec: unit.spec ?? {},
    sheet: await getUnitSheet(tx, id, unit),
    advised: await listAdvised(tx, id),
    setUp: (setUps.came ?? setUps.left)?.body ?? null,
    secondLook: workshop.secondLook ?? [],
    owner: riderId === null ? null : ((await tx.contacts.find(riderId))?.name ?? null),
    mark: mark?.body.stop ? mark : null,
    addedKinds: await listAddedKinds(tx),
    formerRides: (await listFormer(tx, latest)).size,
  };
}

/** Of two services of one day the one entered later is the newer. */
const newestFirst = (a: Fact<'service'>, b: Fact<'service'>): number =>
  a.body.on === b.body.on ? b.since - a.since || b.seq - a.seq : a.body.on < b.body.on ? 1 : -1;

/** What a unit comes for; without a job that is for the technician to tick. */
export type BenchVisit = Pick<Card, 'job' | 'beside' | 'because'>;

export const visitOf = (job: ServiceKind | null, beside: readonly ServiceKind[] = []): BenchVisit => ({
  ...{ job, beside },
  because: null,
});

/** Returns what a unit comes for: what has a day, else what is due. */
export async function findVisit(tx: Tx, one: ForeseenUnit, today: Day): Promise<BenchVisit> {
  const lead = (await tx.leads.listOfUnit(one.unit.id)).find((each) => isLive(each) && each.day !== null);
  const offers = dueOffers(one, today);
  const job = lead?.serviceKind ?? offers[0]?.serviceKind ?? null;
  const beside = lead ? (lead.beside ?? []) : offers.slice(1).map(({ serviceKind }) => serviceKind);
  return { job, beside, because: offers.find(({ serviceKind }) => serviceKind === job)?.because ?? null };
}
