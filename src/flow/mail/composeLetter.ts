import { dayOf } from '../../core/days/calendar.js';
import { fittingNow } from '../../core/ledger/ledger.js';
import type { LinkPurpose } from '../../core/links.js';
import type { BookedJob, BookingChange, CalendarStamp, MailFrame } from '../../core/notices/mailContent.js';
import type { Contact } from '../../ports/contacts.js';
import type { LeadRow } from '../../ports/leads.js';
import type { OutgoingMail } from '../../ports/mailer.js';
import type { MailRow } from '../../ports/mails.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import { getWorkshop } from '../settings.js';
import { fittingOf } from '../unitLedger.js';
import type { Pen } from './composeMail.js';
import { LinkMaker } from './links.js';
import { outgoing, senderOf } from './outgoing.js';

/** Returns the bike, unit and job of a lead that has a day; null where the unit is gone. */
export async function bookedJobOf(tx: Tx, lead: LeadRow, now: Instant): Promise<BookedJob | null> {
  const { timeZone } = await getWorkshop(tx);
  const unit = await tx.facts.current('unit', lead.unitId);
  if (!unit || lead.day === null) return null;
  const { tag, unitKind } = unit.body;
  const fittings = (await tx.facts.list('fitting', { subject: lead.unitId })).map((fact) =>
    fittingOf(fact, timeZone),
  );
  const bikeId = fittingNow(fittings, now)?.bikeId;
  const bike = bikeId === undefined ? undefined : await tx.facts.current('bike', bikeId);
  return { bike: bike?.body.name ?? tag, tag, unitKind, serviceKind: lead.serviceKind, day: lead.day };
}

/** Returns the version of the calendar entry that a lead stands for. */
export const stampOf = (lead: LeadRow): CalendarStamp => ({
  uid: lead.calendarUid,
  sequence: lead.calendarSequence,
  stamp: lead.changedAt,
});

/** Returns a mail that carries no notice, from how things stand now; null where it has lost its reader or its reason. */
export async function composeLetter(
  tx: Tx,
  mail: MailRow,
  pen: Pen,
  now: Instant,
): Promise<OutgoingMail | null> {
  if (mail.mail === 'day-asked') return composeDayAsked(tx, mail, pen, now);
  const contact = await tx.contacts.find(mail.to);
  if (!contact?.email || contact.refusedAt !== null) return null;
  const compose = mail.mail === 'booking' ? composeBooking : composeLink;
  return compose(tx, mail, { ...contact, email: contact.email }, pen, now);
}

type Reachable = Contact & { readonly email: string };

async function frameFor(tx: Tx, { name, language }: Contact, now: Instant): Promise<MailFrame> {
  const workshop = await getWorkshop(tx);
  return { workshop, rider: { name, language }, today: dayOf(now, workshop.timeZone) };
}

async function composeBooking(
  tx: Tx,
  mail: MailRow,
  contact: Reachable,
  { writer }: Pen,
  now: Instant,
): Promise<OutgoingMail | null> {
  const [leadId = '', change = 'booked'] = mail.cause.split(' ');
  const lead = await tx.leads.find(leadId);
  const job = lead && (await bookedJobOf(tx, lead, now));
  if (!job || contact.confirmedAt === null) return null;
  const workshop = await getWorkshop(tx);
  const letter = writer.booking({
    ...(await frameFor(tx, contact, now)),
    ...job,
    change: change as BookingChange,
    calendar: stampOf(lead),
    organizer: senderOf(workshop),
  });
  const to = { name: contact.name, address: contact.email };
  return outgoing(mail, workshop, to, letter, writer.headers(contact.language, null), now);
}

async function composeLink(
  tx: Tx,
  mail: MailRow,
  contact: Reachable,
  { writer, links }: Pen,
  now: Instant,
): Promise<OutgoingMail | null> {
  if (!links) return null;
  const [purpose, unitId, serviceKind] = JSON.parse(mail.cause) as [
    LinkPurpose,
    string | null,
    string | null,
  ];
  const maker = new LinkMaker(links, tx.workshopId, contact, now);
  const link = maker.to({ purpose, unitId, serviceKind });
  const why = mail.mail === 'own-page' ? 'first' : 'fresh';
  // The rider's own page shows rides.
  const isUnsure = purpose === 'page' && contact.confirmedAt === null;
  if (isUnsure && why === 'fresh') return null;
  const frame = await frameFor(tx, contact, now);
  const letter = isUnsure
    ? writer.confirmAddress({ ...frame, link: maker.own('address') })
    : writer.link({ ...frame, link, why });
  const to = { name: contact.name, address: contact.email };
  const headers = writer.headers(contact.language, null);
  return outgoing(mail, await getWorkshop(tx), to, letter, headers, now);
}

async function composeDayAsked(
  tx: Tx,
  mail: MailRow,
  { writer, links }: Pen,
  now: Instant,
): Promise<OutgoingMail | null> {
  const lead = await tx.leads.find(mail.cause);
  const job = lead?.state === 'asked-for' ? await bookedJobOf(tx, lead, now) : null;
  if (!lead || !job) return null;
  const workshop = await getWorkshop(tx);
  const rider = lead.riderId === null ? undefined : await tx.contacts.find(lead.riderId);
  const today: Day = dayOf(now, workshop.timeZone);
  const link = links ? `${links.publicUrl}/leads` : null;
  const letter = writer.dayAsked({ workshop, today, ...job, rider: rider?.name ?? '', link });
  const headers = writer.headers(workshop.language, null);
  return outgoing(mail, workshop, senderOf(workshop), letter, headers, now);
}
