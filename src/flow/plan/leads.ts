import { dayOf } from '../../core/days/calendar.js';
import type { Subject } from '../../core/notices/notice/notice.js';
import {
  decideLeads,
  holdsPlace,
  jobsOfVisit,
  type LeadOffer,
  type LeadState,
} from '../../core/plan/leads.js';
import type { ServiceKind } from '../../core/tokens.js';
import { ServiceError } from '../../errors.js';
import type { Ids } from '../../ports/ids.js';
import type { LeadRow } from '../../ports/leads.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import { usualRestarts } from '../facts/enterFacts.js';
import type { Entry } from '../fittings/fittings.js';
import { bikeNow } from '../mail/bikeNow.js';
import { queueBookingMail, withdrawBookingMails } from '../mail/kinds/booking.js';
import { refuse } from '../refuse.js';
import { getWorkshop } from '../settings.js';
import { benchMinutesOf, hasPlace, listOfferedDays } from './leadDays.js';

/** Who changes leads that nobody changed by hand. */
const BY_ITSELF = 'stanchion';

/** Opens, changes, finishes and drops leads so that they follow from how things stand. */
export async function settleLeads(
  tx: Tx,
  subjects: readonly Subject[],
  now: Instant,
  ids: Ids,
): Promise<void> {
  const today = dayOf(now, (await getWorkshop(tx)).timeZone);
  const leads = await tx.leads.list(['open', 'asked-for', 'booked', 'declined']);
  const entry = { by: BY_ITSELF, at: now };
  for (const decision of decideLeads(subjects, leads, today)) {
    if (decision.does === 'drop') await tx.leads.remove(decision.leadId);
    if (decision.does === 'open') await addLead(tx, decision.offer, { state: 'open', day: null }, entry);
    if (decision.does === 'finish') await finish(tx, await getLead(tx, decision.leadId), entry, ids);
    if (decision.does === 'end')
      await tx.leads.update(decision.leadId, {
        state: 'open',
        day: null,
        changedAt: now,
        changedBy: BY_ITSELF,
      });
    if (decision.does === 'change') {
      const { offer } = decision;
      const benchMinutes = await benchMinutesOf(tx, offer.unitId, jobsOfVisit(offer));
      await tx.leads.update(decision.leadId, { ...changeOf(offer), benchMinutes });
    }
  }
}

const changeOf = ({ unitId: _, ...offer }: LeadOffer): Omit<LeadOffer, 'unitId'> => offer;

/** Adds a lead; a unit never has two that are live. */
export async function addLead(
  tx: Tx,
  offer: LeadOffer,
  as: { readonly state: LeadState; readonly day: Day | null },
  { by, at }: Entry,
): Promise<LeadRow> {
  const benchMinutes = await benchMinutesOf(tx, offer.unitId, jobsOfVisit(offer));
  return tx.leads.add({ ...offer, ...as, benchMinutes, madeAt: at, changedBy: by });
}

/** Errors: `not-found`. */
async function getLead(tx: Tx, id: string): Promise<LeadRow> {
  const lead = await tx.leads.find(id);
  if (lead) return lead;
  throw new ServiceError('not-found', `There is no lead ${id}.`, {
    hint: 'stanchion leads shows them.',
  });
}

async function change(
  tx: Tx,
  lead: LeadRow,
  to: Parameters<Tx['leads']['update']>[1],
  { by, at }: Entry,
): Promise<LeadRow> {
  await tx.leads.update(lead.id, { ...to, changedAt: at, changedBy: by });
  return getLead(tx, lead.id);
}

/** A changed lead, and whether its rider gets a mail about it; else they are to be called. */
export interface Changed {
  readonly lead: LeadRow;
  readonly isMailed: boolean;
}

/** Books a day, or another one; the rider gets a mail with a calendar entry. Errors: `refused` with other days. */
export async function bookLead(
  tx: Tx,
  id: string,
  day: Day,
  entry: Entry,
  ids: Ids,
  options: { readonly evenIfFull?: boolean; readonly smaller?: boolean } = {},
): Promise<Changed> {
  const before = await chosenJob(tx, await getLead(tx, id), options.smaller === true);
  if (before.state === 'done') refuse('lead-is-done');
  if (before.state === 'booked' && before.day === day) return { lead: before, isMailed: true };
  if (day < dayOf(entry.at, (await getWorkshop(tx)).timeZone)) refuse('day-passed', { day });
  const { unitId } = before;
  const jobs = jobsOfVisit(before);
  if (!options.evenIfFull && !(await hasPlace(tx, unitId, jobs, day))) {
    const free = await listOfferedDays(tx, { unitId, jobs, count: 3 }, entry.at);
    refuse('no-place', { day, free });
  }
  const wasLive = before.state !== 'declined';
  if (!wasLive) await checkNoOther(tx, before);
  const calendarSequence = before.calendarSequence + 1;
  const lead = await change(tx, before, { state: 'booked', day, calendarSequence }, entry);
  const what = before.state === 'booked' ? 'moved' : 'booked';
  return { lead, isMailed: await queueBookingMail(tx, lead, what, entry.at, ids) };
}

/** The smaller job that alone is wanted, in place of the larger one, where somebody chose it. */
async function chosenJob(tx: Tx, lead: LeadRow, isSmaller: boolean): Promise<LeadRow> {
  const { wanted, serviceKind, unitId, beside = [] } = lead;
  if (!isSmaller || lead.state === 'done' || wanted === serviceKind) return lead;
  const benchMinutes = await benchMinutesOf(tx, unitId, jobsOfVisit({ serviceKind: wanted, beside }));
  await tx.leads.update(lead.id, { serviceKind: wanted, benchMinutes });
  return { ...lead, serviceKind: wanted, benchMinutes };
}

async function checkNoOther(tx: Tx, lead: LeadRow): Promise<void> {
  const other = (await tx.leads.listOfUnit(lead.unitId)).find(
    (one) => one.id !== lead.id && (one.state === 'open' || holdsPlace(one)),
  );
  if (other) refuse('other-lead', { lead: other.id });
}

/** Declines a lead; a rider who asked for a day, or had one, gets a mail. */
export async function declineLead(tx: Tx, id: string, entry: Entry, ids: Ids): Promise<Changed> {
  const before = await getLead(tx, id);
  if (before.state === 'done' || before.state === 'declined') refuse('lead-settled', { state: before.state });
  return cancel(tx, before, 'declined', entry, ids);
}

/** Says that a lead was dealt with, where no service is logged for it. */
export async function finishLead(tx: Tx, id: string, entry: Entry, ids: Ids): Promise<LeadRow> {
  const before = await getLead(tx, id);
  if (before.state === 'done') refuse('lead-settled', { state: before.state });
  return finish(tx, before, entry, ids);
}

/** Says that the unit did not come on its day: the job is open again. Errors: `refused` where it has no day. */
export async function reopenLead(tx: Tx, id: string, entry: Entry): Promise<LeadRow> {
  const before = await getLead(tx, id);
  if (before.state === 'done' || before.state === 'declined') refuse('lead-settled', { state: before.state });
  await withdrawBookingMails(tx, id, entry.at);
  return change(tx, before, { state: 'open', day: null }, entry);
}

/** What somebody books a unit for. */
interface ChosenJobs {
  readonly serviceKind: ServiceKind;
  /** Others of the same visit; one that the job includes is left out. */
  readonly beside: readonly ServiceKind[];
}

/**
 * Books a unit for a day, whatever is due of it: the lead that it has takes the day, else a new one is made.
 * Errors: as of `bookLead`, and where the unit has no clock to tell the job by.
 */
export async function bookUnit(
  tx: Tx,
  unitId: string,
  { serviceKind, day, ...chosen }: ChosenJobs & { readonly day: Day },
  entry: Entry,
  ids: Ids,
  options: { readonly evenIfFull?: boolean } = {},
): Promise<Changed> {
  const live = (await tx.leads.listOfUnit(unitId)).find((lead) => lead.state === 'open' || holdsPlace(lead));
  const included = await usualRestarts(tx, { unitId, serviceKind });
  const beside = chosen.beside.filter((job) => job !== serviceKind && !included.includes(job));
  if (live) {
    const benchMinutes = await benchMinutesOf(tx, unitId, jobsOfVisit({ serviceKind, beside }));
    await tx.leads.update(live.id, { serviceKind, beside, benchMinutes });
    return bookLead(tx, live.id, day, entry, ids, options);
  }
  const standings = await tx.standings.listOf(unitId);
  const standing = standings.find((one) => one.serviceKind === serviceKind) ?? standings[0];
  if (!standing) throw new ServiceError('not-found', 'This unit has no service to book.');
  const { timeZone } = await getWorkshop(tx);
  const { riderId } = await bikeNow(tx, unitId, entry.at, timeZone);
  const { serviceKind: wanted, periodId, periodStart } = standing;
  const offer = { unitId, riderId, serviceKind, wanted, beside, periodId, periodStart };
  const lead = await addLead(tx, offer, { state: 'open', day: null }, entry);
  return bookLead(tx, lead.id, day, entry, ids, options);
}

/** Lets go of a unit's day because the rider no longer wants it. */
export async function giveUpDay(tx: Tx, unitId: string, entry: Entry, ids: Ids): Promise<void> {
  const lead = (await tx.leads.listOfUnit(unitId)).find(holdsPlace);
  if (lead?.state === 'booked') await cancel(tx, lead, 'declined', entry, ids);
  else if (lead) await change(tx, lead, { state: 'declined' }, entry);
}

/** A day that is still to come is taken back from the rider's calendar. */
async function finish(tx: Tx, lead: LeadRow, entry: Entry, ids: Ids): Promise<LeadRow> {
  const today = dayOf(entry.at, (await getWorkshop(tx)).timeZone);
  if (lead.state === 'booked' && lead.day !== null && lead.day > today)
    return (await cancel(tx, lead, 'done', entry, ids)).lead;
  await withdrawBookingMails(tx, lead.id, entry.at);
  return change(tx, lead, { state: 'done' }, entry);
}

async function cancel(
  tx: Tx,
  before: LeadRow,
  state: 'declined' | 'done',
  entry: Entry,
  ids: Ids,
): Promise<Changed> {
  const isBooked = before.state === 'booked';
  const calendarSequence = before.calendarSequence + (isBooked ? 1 : 0);
  const lead = await change(tx, before, { state, calendarSequence }, entry);
  if (!holdsPlace(before)) return { lead, isMailed: true };
  const what = !isBooked ? 'declined' : state === 'done' ? 'done' : 'cancelled';
  return { lead, isMailed: await queueBookingMail(tx, lead, what, entry.at, ids) };
}
