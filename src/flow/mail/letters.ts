import { dayOf } from '../../core/days/calendar.js';
import type { Link } from '../../core/links.js';
import type { BookingChange } from '../../core/notices/mailContent.js';
import { type LETTERS, WORKSHOP } from '../../core/notices/notice.js';
import type { Contact } from '../../ports/contacts.js';
import type { Ids } from '../../ports/ids.js';
import type { LeadRow } from '../../ports/leads.js';
import type { MailRow } from '../../ports/mails.js';
import type { Tx } from '../../ports/store.js';
import { DAY_MS, type Instant, MINUTE_MS } from '../../units.js';
import { getWorkshop } from '../settings.js';
import { newMessageId } from './outgoing.js';

type LetterKind = (typeof LETTERS)[number];

interface NewLetter {
  readonly mail: LetterKind;
  readonly to: string;
  /** What it is about, as `composeLetter` reads it. */
  readonly cause: string;
}

async function addLetter(tx: Tx, letter: NewLetter, now: Instant, ids: Ids): Promise<void> {
  const day = dayOf(now, (await getWorkshop(tx)).timeZone);
  const when = { day, sendAt: now, queuedAt: now, nextTryAt: now };
  await tx.mails.add({ ...letter, ...when, messageId: newMessageId(ids) });
}

const isAboutLead = (mail: MailRow, leadId: string): boolean =>
  mail.mail === 'booking' && mail.cause.split(' ')[0] === leadId;

/** Withdraws what waits about a booking. Returns whether any mail about it may have arrived. */
export async function withdrawBookingMails(tx: Tx, leadId: string, now: Instant): Promise<boolean> {
  const about = (await tx.mails.listOfKind('booking')).filter((mail) => isAboutLead(mail, leadId));
  for (const mail of about)
    if (mail.state === 'waiting') await tx.mails.update(mail.id, { state: 'withdrawn', settledAt: now });
  return about.some((mail) => mail.tries > 0);
}

/**
 * Queues the mail about what became of a booking, in place of what waits about it. Returns false where the rider gets
 * none and is to be called: no address, or one that is not confirmed or takes no mail.
 */
export async function queueBookingMail(
  tx: Tx,
  lead: LeadRow,
  change: BookingChange,
  now: Instant,
  ids: Ids,
): Promise<boolean> {
  const wasTold = await withdrawBookingMails(tx, lead.id, now);
  const contact = lead.riderId === null ? undefined : await tx.contacts.find(lead.riderId);
  if (!contact?.email || contact.confirmedAt === null || contact.refusedAt !== null) return false;
  // What was never told need not be taken back.
  if ((change === 'cancelled' || change === 'done') && !wasTold) return true;
  const told = change === 'moved' && !wasTold ? 'booked' : change;
  await addLetter(tx, { mail: 'booking', to: contact.riderId, cause: `${lead.id} ${told}` }, now, ids);
  return true;
}

/** Tells the workshop that a rider asks for a day. */
export async function queueDayAsked(tx: Tx, lead: LeadRow, now: Instant, ids: Ids): Promise<void> {
  const waiting = (await tx.mails.listOfKind('day-asked')).filter(
    (mail) => mail.cause === lead.id && mail.state === 'waiting',
  );
  if (waiting.some((mail) => mail.written === null)) return;
  await addLetter(tx, { mail: 'day-asked', to: WORKSHOP, cause: lead.id }, now, ids);
}

/**
 * Queues a link to the rider's own page, in place of one that waits; to an address that is not confirmed goes the
 * question whether it is the rider's, and the link once they say so. Returns false where no mail can go.
 */
export async function queueOwnPage(tx: Tx, contact: Contact, now: Instant, ids: Ids): Promise<boolean> {
  const { riderId, email, refusedAt } = contact;
  if (email === null || refusedAt !== null) return false;
  for (const mail of await tx.mails.listOfKind('own-page'))
    if (mail.to === riderId && mail.state === 'waiting')
      await tx.mails.update(mail.id, { state: 'withdrawn', settledAt: now });
  const cause = JSON.stringify(['page', null, null]);
  await addLetter(tx, { mail: 'own-page', to: riderId, cause }, now, ids);
  return true;
}

/** *Default*: a link that is asked for again and again sends one mail in so long. */
const FRESH_LINK_APART_MS = 15 * MINUTE_MS;
const FRESH_LINKS_A_DAY = 5;

/** Queues a fresh link to the known address; the same again within a while adds nothing. */
export async function queueFreshLink(tx: Tx, link: Link, now: Instant, ids: Ids): Promise<void> {
  const contact = await tx.contacts.find(link.riderId);
  if (!contact?.email || contact.refusedAt !== null) return;
  const cause = JSON.stringify([link.purpose, link.unitId, link.serviceKind]);
  const today = (await tx.mails.listOfKind('fresh-link')).filter(
    (mail) => mail.to === link.riderId && Math.abs(now - mail.queuedAt) < DAY_MS,
  );
  const isRecent = today.some(
    (mail) => mail.cause === cause && Math.abs(now - mail.queuedAt) < FRESH_LINK_APART_MS,
  );
  if (isRecent || today.length >= FRESH_LINKS_A_DAY) return;
  await addLetter(tx, { mail: 'fresh-link', to: link.riderId, cause }, now, ids);
}
