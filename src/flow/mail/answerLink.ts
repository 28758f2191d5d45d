/** What riders answer by the links in their mails. Each is done in the transaction that checked the link. */
import { addDays, dayOf } from '../../core/days/calendar.js';
import { type JobNearness, offersFor } from '../../core/ledger/offer.js';
import { madeAt } from '../../core/links.js';
import type { Subject } from '../../core/notices/notice/notice.js';
import { holdsPlace, isLive, type Lead } from '../../core/plan/leads.js';
import type { DoneBy, ServiceKind } from '../../core/tokens.js';
import type { Contact } from '../../ports/contacts.js';
import type { Ids } from '../../ports/ids.js';
import type { LeadRow } from '../../ports/leads.js';
import type { RideRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';
import { type Day, type Instant, isoTime } from '../../units.js';
import { byRider } from '../entry.js';
import { addService, usualRestarts } from '../facts/enterFacts.js';
import { type Entry, endFitting } from '../fittings/fittings.js';
import { setGone } from '../fittings/whereabouts.js';
import { giveUpDay } from '../plan/leads.js';
import { moveRide } from '../rides/moveRide.js';
import { getWorkshop } from '../settings.js';
import { queueDayWithdrawn } from './kinds/dayAsked.js';
import { queueOwnPage } from './kinds/link.js';
import type { OpenedLink } from './links.js';
import { listSubjects } from './listSubjects.js';

/** Who enters what a rider answers. */
export const riderEntry = ({ riderId }: Contact, at: Instant): Entry => ({ by: byRider(riderId), at });

/** What a link about a unit finds: its service kinds, and the lead that is live or was declined. */
export interface LinkedUnit {
  readonly unitId: string;
  /** The day that the workshop could not give, where it was the last word about this service period. */
  readonly declined: Day | null;
  /** The kind that the mail told of. */
  readonly told: Subject;
  readonly subjects: readonly Subject[];
  readonly lead: LeadRow | null;
  /** The job that is offered. */
  readonly serviceKind: ServiceKind;
  /** Others of the same visit. */
  readonly beside: readonly ServiceKind[];
  /** Why the job takes the place of the smaller one that alone is wanted; null where it does not. */
  readonly because: JobNearness | null;
}

/** Returns the unit of a link while it is on a bike of the rider's; null once it is not. */
export async function findLinkedUnit(
  tx: Tx,
  { link, contact }: OpenedLink,
  now: Instant,
): Promise<LinkedUnit | null> {
  const { unitId, serviceKind } = link;
  if (unitId === null || serviceKind === null) return null;
  const { timeZone } = await getWorkshop(tx);
  const subjects = await listSubjects(tx, now, timeZone, [unitId]);
  const told = subjects.find(({ standing }) => standing.serviceKind === serviceKind);
  if (!told || told.riderId !== contact.riderId) return null;
  const leads = (await tx.leads.listOfUnit(unitId)).filter((one) => one.riderId === contact.riderId);
  const lead = leads.find(isLive) ?? leads.find((one) => isNotWanted(one, told)) ?? null;
  const offers = offersFor(subjects, dayOf(now, timeZone));
  const offer = offers.find((one) => one.includes.includes(serviceKind));
  const job = lead?.serviceKind ?? offer?.serviceKind ?? serviceKind;
  const others = offers.filter((one) => one !== offer).map((one) => one.serviceKind);
  return {
    ...{ unitId, told, subjects, lead },
    declined: isPlaced(lead) ? null : declinedDay(leads, told),
    serviceKind: job,
    beside: lead?.beside ?? (offer ? others : []),
    because: offers.find((one) => one.serviceKind === job)?.because ?? null,
  };
}

/** The last step of the last booking, if the workshop declined it. */
function declinedDay(leads: readonly LeadRow[], { standing: { periodId } }: Subject): Day | null {
  const [last] = leads
    .filter((one) => one.factId !== null && one.periodId === periodId)
    .sort((a, b) => b.changedAt - a.changedAt);
  return last?.step === 'declined' ? last.day : null;
}

const isNotWanted = (lead: Lead, { standing }: Subject): boolean =>
  lead.step === 'not-wanted' && lead.wanted === standing.serviceKind && lead.periodId === standing.periodId;

/** Large jobs whose clocks a rider's word alone does not restart. Common practice, no source. */
const NEEDS_AGREEMENT: readonly ServiceKind[] = ['damper', 'full'];

/** `known`: the same stands in the book. `claim`: its clocks run on until the workshop agrees. */
export type SaidDone = 'entered' | 'claim' | 'known';

/**
 * Logs a service that was done elsewhere; the same twice is not taken. A day that was booked is given up. Where the job
 * renews more than itself, its clocks run on until the workshop agrees.
 * Errors: `refused` where the unit cannot have had it then.
 */
export async function sayDone(
  tx: Tx,
  { unitId }: LinkedUnit,
  service: { readonly serviceKind: ServiceKind; readonly on: Day; readonly by: DoneBy },
  entry: Entry,
  ids: Ids,
): Promise<SaidDone> {
  const known = await tx.facts.list('service', { subject: unitId });
  const isKnown = known.some(
    ({ body }) => body.on === service.on && body.serviceKind === service.serviceKind,
  );
  if (isKnown) return 'known';
  const clocks = await usualRestarts(tx, { unitId, serviceKind: service.serviceKind });
  const isClaim = NEEDS_AGREEMENT.includes(service.serviceKind);
  const claim = isClaim ? { restarts: [], isClaim } : { restarts: clocks };
  await addService(tx, { ...service, ...claim, unitId, findings: null, note: null }, entry);
  await giveUp(tx, unitId, entry, ids);
  return isClaim ? 'claim' : 'entered';
}

/** The rider no longer wants the job: the workshop hears that its day is free. */
export async function giveUp(tx: Tx, unitId: string, entry: Entry, ids: Ids): Promise<void> {
  const given = await giveUpDay(tx, unitId, entry, ids);
  if (given) await queueDayWithdrawn(tx, given, entry.at, ids);
}

/** The longest that a rider may ask for silence; the workshop's list goes on. */
export const LONGEST_LATER_DAYS = 180;

/** Returns false where the day is not one to come within half a year. */
export async function sayLater(
  tx: Tx,
  { unitId }: LinkedUnit,
  riderId: string,
  until: Day,
  at: Instant,
): Promise<boolean> {
  const today = dayOf(at, (await getWorkshop(tx)).timeZone);
  if (until <= today || until > addDays(today, LONGEST_LATER_DAYS)) return false;
  await tx.leads.putLater({ unitId, riderId, at, until });
  return true;
}

/** Says that the unit was sold, or takes it off its bike because it lies in its box. */
export async function sayGone(
  tx: Tx,
  { unitId }: LinkedUnit,
  why: 'sold' | 'stored',
  entry: Entry,
  ids: Ids,
): Promise<void> {
  await giveUp(tx, unitId, entry, ids);
  const because = { ...entry, why };
  const today = dayOf(entry.at, (await getWorkshop(tx)).timeZone);
  if (why === 'sold') await setGone(tx, { unitId, how: 'sold', on: today }, because);
  else await endFitting(tx, unitId, isoTime(entry.at), because);
}

const RIDES_SHOWN = 3;
const RIDES_LOOKED_AT = 25;

/** Returns the rides that the mail of a link showed, recorded or typed. */
export async function listLinkedRides(tx: Tx, { link, contact }: OpenedLink): Promise<RideRow[]> {
  const made = madeAt(link);
  const latest = await tx.rides.listLatestOfRider(contact.riderId, RIDES_LOOKED_AT);
  return latest.filter((ride) => ride.start! <= made).slice(0, RIDES_SHOWN);
}

/** Moves one of those rides to another of the rider's bikes, or to none. Returns false where it is not one of either. */
export async function sayWrongBike(
  tx: Tx,
  opened: OpenedLink,
  rideId: string,
  bikeId: string | null,
  entry: Entry,
): Promise<boolean> {
  const rides = await listLinkedRides(tx, opened);
  if (!rides.some((ride) => ride.id === rideId)) return false;
  return moveRide(tx, opened.contact.riderId, rideId, bikeId, entry);
}

/** Has the pages and mails of a rider speak another language. */
export async function setLanguage(tx: Tx, contact: Contact, language: string): Promise<void> {
  const { addressId: _, refusedAt: _refused, linkEpoch: _epoch, ...rest } = contact;
  if (language !== contact.language) await tx.contacts.put({ ...rest, language });
}

/** Stops reminders, or takes them up again; mails about booked days go on. */
export async function setStopped(
  tx: Tx,
  { riderId, unsubscribedAt }: Contact,
  isStopped: boolean,
  at: Instant,
) {
  if (isStopped !== (unsubscribedAt !== null))
    await tx.contacts.setUnsubscribed(riderId, isStopped ? at : null);
}

/** Confirms the address; a link to the own page that the workshop wanted to mail before follows. */
export async function confirmAddress(tx: Tx, contact: Contact, at: Instant, ids: Ids): Promise<void> {
  const { riderId, confirmedAt } = contact;
  if (confirmedAt !== null) return;
  await tx.contacts.confirm(riderId, at);
  const wasWanted = (await tx.mails.listOfKind('own-page')).some(({ to }) => to === riderId);
  if (wasWanted) await queueOwnPage(tx, contact, at, ids);
}

export const isPlaced = (lead: LeadRow | null): lead is LeadRow & { readonly day: Day } =>
  lead !== null && holdsPlace(lead) && lead.day !== null;
