/** What may be booked, and what people and riders do with it. */
import { dayOf } from '../../core/days/calendar.js';
import { groupBy } from '../../core/groupBy.js';
import type { Subject } from '../../core/notices/notice/notice.js';
import { decideLeads, holdsPlace, jobsOfVisit, type LeadOffer, visitUnitOf } from '../../core/plan/leads.js';
import { AlreadyReplaced, ServiceError } from '../../errors.js';
import type { Ids } from '../../ports/ids.js';
import type { LeadRow } from '../../ports/leads.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import type { Entry } from '../entry.js';
import { queueBookingMail, withdrawBookingMails } from '../mail/kinds/booking.js';
import { listSubjects } from '../mail/listSubjects.js';
import { refuse } from '../refuse.js';
import { getWorkshop } from '../settings.js';
import {
  closeOpen,
  findBooking,
  finishUnit,
  putVisit,
  stepBooking,
  takeOut,
  todayAt,
  type WantedVisit,
} from './bookings.js';
import { benchMinutesOf, benchOf, hasPlace, listOfferedDays } from './leadDays.js';

/** Who changes leads that nobody changed by hand. */
const BY_ITSELF = 'stanchion';

/** Opens, changes, ends, finishes and drops leads so that they follow from how things stand. */
export async function settleLeads(
  tx: Tx,
  subjects: readonly Subject[],
  now: Instant,
  ids: Ids,
): Promise<void> {
  await settle(tx, subjects, await tx.leads.list(['open', 'asked-for', 'booked', 'declined']), now, ids);
}

async function settle(
  tx: Tx,
  subjects: readonly Subject[],
  leads: readonly LeadRow[],
  now: Instant,
  ids: Ids,
): Promise<void> {
  const workshop = await getWorkshop(tx);
  const today = dayOf(now, workshop.timeZone);
  const entry = { by: BY_ITSELF, at: now };
  for (const decision of decideLeads(subjects, leads, today, benchOf(workshop))) {
    if (decision.does === 'drop') await tx.leads.removeOpen(decision.leadId);
    if (decision.does === 'open') await openLead(tx, decision.offer, entry);
    if (decision.does === 'finish') await finish(tx, decision.leadId, decision.unitId, entry, ids);
    if (decision.does === 'end') {
      const fact = await findBooking(tx, decision.leadId);
      if (fact) await stepBooking(tx, fact, { step: 'ended' }, entry);
    }
    if (decision.does === 'change') {
      const { offer } = decision;
      const benchMinutes = await benchMinutesOf(tx, offer.unitId, jobsOfVisit(offer));
      await tx.leads.changeOpen(decision.leadId, { ...offer, benchMinutes });
    }
  }
}

/** Has what is due of some units stand open again, at once. */
async function reopen(tx: Tx, rows: readonly LeadRow[], { at }: Entry, ids: Ids): Promise<void> {
  const { timeZone } = await getWorkshop(tx);
  const leads: LeadRow[] = [];
  const unitIds = [...new Set(rows.map(({ unitId }) => unitId))];
  for (const unitId of unitIds) leads.push(...(await tx.leads.listOfUnit(unitId)));
  await settle(tx, await listSubjects(tx, at, timeZone, unitIds), leads, at, ids);
}

/** Adds an open lead; a unit never has two that are live. */
async function openLead(tx: Tx, offer: LeadOffer, { by, at }: Entry): Promise<LeadRow> {
  const benchMinutes = await benchMinutesOf(tx, offer.unitId, jobsOfVisit(offer));
  return tx.leads.addOpen({ ...offer, benchMinutes, madeAt: at, changedBy: by });
}

/** Errors: `not-found`. */
async function getRows(tx: Tx, id: string): Promise<readonly [LeadRow, ...LeadRow[]]> {
  const [first, ...rest] = await tx.leads.listOf(id);
  if (first) return [first, ...rest];
  throw new ServiceError('not-found', `There is no booking ${id}.`, {
    hint: 'stanchion leads shows them.',
  });
}

/** A changed booking, and whether its rider gets a mail about it; else they are to be called. */
export interface Changed {
  readonly leads: readonly LeadRow[];
  readonly isMailed: boolean;
}

export interface BookOptions {
  readonly evenIfFull?: boolean;
  /** The smaller job that alone is wanted, in place of the larger one that is offered. */
  readonly smaller?: boolean;
  /** The step that the person saw. */
  readonly seen?: string | undefined;
}

/** Books a day, or another one; the rider gets a mail with a calendar entry. Errors: `refused` with other days. */
export async function bookLead(
  tx: Tx,
  id: string,
  day: Day,
  entry: Entry,
  ids: Ids,
  options: BookOptions = {},
): Promise<Changed> {
  const rows = await getRows(tx, id);
  await checkSeen(tx, id, options.seen);
  const chosen = options.smaller ? rows.map((row) => ({ ...row, serviceKind: row.wanted })) : rows;
  const units = chosen.filter(({ state }) => state !== 'done').map(visitUnitOf);
  if (units.length === 0) refuse('lead-is-done');
  const isOpen = rows[0].factId === null;
  if (!isOpen) await checkNoOther(tx, rows);
  const visit = { units, day, ...(!isOpen && { bookingId: id }) };
  return bookVisit(tx, visit, entry, ids, options);
}

/**
 * Books any units for any day: whatever is due of them, the booking that they have takes the day, else a new one is
 * made. Errors: `refused` with other days, and where the day has passed.
 */
export async function bookVisit(
  tx: Tx,
  visit: WantedVisit,
  entry: Entry,
  ids: Ids,
  options: BookOptions = {},
): Promise<Changed> {
  const { day, units } = visit;
  if (day < (await todayAt(tx, entry))) refuse('day-passed', { day });
  if (!options.evenIfFull && !(await hasPlace(tx, units, day))) {
    const free = await listOfferedDays(tx, { units, count: 3 }, entry.at);
    refuse('no-place', { day, free });
  }
  const { before, rows, emptied } = await putVisit(tx, visit, 'booked', entry, ids);
  for (const [id, gone] of groupBy(emptied, ({ id }) => id))
    if (await withdrawBookingMails(tx, id, entry.at))
      await queueBookingMail(tx, gone, 'cancelled', entry.at, ids);
  const what = before?.body.step === 'booked' ? 'moved' : 'booked';
  return { leads: rows, isMailed: await queueBookingMail(tx, rows, what, entry.at, ids) };
}

/** Errors: `already-replaced` where the booking is no longer as a person saw it. */
async function checkSeen(tx: Tx, id: string, seen: string | undefined): Promise<void> {
  if (seen === undefined) return;
  const fact = await findBooking(tx, id);
  if (!fact || fact.id === seen) return;
  throw new AlreadyReplaced(fact.recordedBy, fact.recordedAt, fact.isVoid, fact.id);
}

async function checkNoOther(tx: Tx, rows: readonly LeadRow[]): Promise<void> {
  for (const { id, unitId } of rows) {
    const other = (await tx.leads.listOfUnit(unitId)).find((one) => one.id !== id && holdsPlace(one));
    if (other) refuse('other-lead', { lead: other.id });
  }
}

const DAYS_OFFERED = 3;

/**
 * Declines a day, with other ones in its place: the rider who asked for it, or had it, gets a mail. What is due stands
 * open again. Of a lead without a day it says that nobody wants it in this service period.
 */
export async function declineLead(
  tx: Tx,
  id: string,
  entry: Entry,
  ids: Ids,
  { seen, offered }: { readonly seen?: string | undefined; readonly offered?: readonly Day[] } = {},
): Promise<Changed> {
  const rows = await getRows(tx, id);
  const [first] = rows;
  if (first.state === 'open')
    return { leads: await closeOpen(tx, first, 'not-wanted', entry, ids), isMailed: true };
  const placed = rows.filter(holdsPlace);
  if (placed.length === 0) refuse('lead-settled', { state: first.state === 'done' ? 'done' : 'declined' });
  await checkSeen(tx, id, seen);
  const others = offered ?? (await otherDays(tx, placed, entry.at));
  const leads = await letGo(tx, id, { step: 'declined', offered: others }, entry);
  const what = first.state === 'booked' ? 'cancelled' : 'declined';
  const isMailed = await queueBookingMail(tx, leads, what, entry.at, ids);
  await reopen(tx, leads, entry, ids);
  return { leads, isMailed };
}

/** Returns days with a place for a visit, other than the one that it has. */
export async function otherDays(tx: Tx, rows: readonly LeadRow[], now: Instant): Promise<Day[]> {
  const wish = { units: rows.map(visitUnitOf), count: DAYS_OFFERED + 1 };
  const days = await listOfferedDays(tx, wish, now);
  return days.filter((day) => !rows.some((row) => row.day === day)).slice(0, DAYS_OFFERED);
}

async function letGo(
  tx: Tx,
  id: string,
  change: Parameters<typeof stepBooking>[2],
  entry: Entry,
): Promise<readonly LeadRow[]> {
  const fact = await findBooking(tx, id);
  return fact ? stepBooking(tx, fact, change, entry) : [];
}

/** Says that a lead was dealt with, where no service is logged for it. */
export async function finishLead(tx: Tx, id: string, entry: Entry, ids: Ids): Promise<Changed> {
  const [first] = await getRows(tx, id);
  if (first.state === 'done') refuse('lead-settled', { state: first.state });
  if (first.state === 'open')
    return { leads: await closeOpen(tx, first, 'done', entry, ids), isMailed: true };
  return { leads: await finish(tx, id, null, entry, ids), isMailed: true };
}

/** Says that nothing of a booking came on its day: what is due stands open again. Errors: `refused` where it has no day. */
export async function missBooking(
  tx: Tx,
  id: string,
  entry: Entry,
  ids: Ids,
  seen?: string,
): Promise<Changed> {
  const rows = await getRows(tx, id);
  if (!rows.some(holdsPlace))
    refuse('lead-settled', { state: rows[0].state === 'done' ? 'done' : 'declined' });
  await checkSeen(tx, id, seen);
  await withdrawBookingMails(tx, id, entry.at);
  const leads = await letGo(tx, id, { step: 'missed' }, entry);
  await reopen(tx, leads, entry, ids);
  return { leads, isMailed: true };
}

/** Ends the booking of a unit that was here and left without a service: what is due of it stands open again. */
export async function endUnserved(tx: Tx, unitId: string, entry: Entry, ids: Ids): Promise<void> {
  const lead = (await tx.leads.listOfUnit(unitId)).find(holdsPlace);
  if (!lead || lead.day === null || lead.day > (await todayAt(tx, entry))) return;
  const others = (await tx.leads.listOf(lead.id)).some((one) => one.unitId !== unitId && holdsPlace(one));
  if (others) await takeOut(tx, lead.id, [lead], entry);
  else await letGo(tx, lead.id, { step: 'ended' }, entry);
  await reopen(tx, [lead], entry, ids);
}

/** Lets go of a day at its rider's wish; what is due stands open again. */
export async function withdrawBooking(
  tx: Tx,
  id: string,
  entry: Entry,
  ids: Ids,
): Promise<readonly LeadRow[]> {
  const [before] = await getRows(tx, id);
  const leads = await letGo(tx, id, { step: 'withdrawn' }, entry);
  if (before.state === 'booked') await queueBookingMail(tx, leads, 'cancelled', entry.at, ids);
  await reopen(tx, leads, entry, ids);
  return leads;
}

/** A day that a unit does not come on after all. */
export interface GivenUp {
  /** The booking that stands for what does not come. */
  readonly leadId: string;
  readonly day: Day;
  readonly how: 'cancelled' | 'withdrawn';
}

/** Lets go of a unit's day because the rider no longer wants its job; what else of the bike was to come still is. */
export async function giveUpDay(tx: Tx, unitId: string, entry: Entry, ids: Ids): Promise<GivenUp | null> {
  const lead = (await tx.leads.listOfUnit(unitId)).find(holdsPlace);
  if (!lead || lead.day === null) return null;
  const { day } = lead;
  const isBooked = lead.state === 'booked';
  const rest = (await tx.leads.listOf(lead.id)).filter((one) => one.unitId !== unitId && holdsPlace(one));
  if (rest.length > 0) {
    await takeOut(tx, lead.id, [lead], entry);
    const [closed] = await closeOpen(tx, lead, 'not-wanted', entry, ids);
    if (isBooked) await queueBookingMail(tx, await tx.leads.listOf(lead.id), 'moved', entry.at, ids);
    return { leadId: closed?.id ?? lead.id, day, how: 'cancelled' };
  }
  const leads = await letGo(tx, lead.id, { step: 'not-wanted' }, entry);
  if (isBooked) await queueBookingMail(tx, leads, 'cancelled', entry.at, ids);
  return { leadId: lead.id, day, how: isBooked ? 'cancelled' : 'withdrawn' };
}

/** A day that is still to come is taken back from the rider's calendar, once nothing is to come on it. */
async function finish(
  tx: Tx,
  id: string,
  unitId: string | null,
  entry: Entry,
  ids: Ids,
): Promise<readonly LeadRow[]> {
  const today = await todayAt(tx, entry);
  const [before] = await getRows(tx, id);
  const leads = await finishUnit(tx, id, unitId, entry);
  if (leads.some(holdsPlace)) return leads;
  if (before.state === 'booked' && before.day !== null && before.day > today)
    await queueBookingMail(tx, leads, 'done', entry.at, ids);
  else await withdrawBookingMails(tx, id, entry.at);
  return leads;
}
