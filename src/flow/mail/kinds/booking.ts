import type { Cause, CauseText } from '../../../core/notices/notice/notice.js';
import type { BookingChange } from '../../../core/tokens.js';
import type { Ids } from '../../../ports/ids.js';
import type { LeadRow } from '../../../ports/leads.js';
import type { MailRow } from '../../../ports/mails.js';
import type { Tx } from '../../../ports/store.js';
import type { Instant } from '../../../units.js';
import { addLetter, withdrawLetters } from '../addLetter.js';
import { bookedVisitOf, stampOf } from '../bookedJob.js';
import { senderOf } from '../outgoing.js';
import type { MailSource } from './mailKind.js';

/** Which booking, and what became of it. */
const CAUSE: CauseText<{ readonly leadId: string; readonly change: BookingChange }> = {
  write: ({ leadId, change }) => `${leadId} ${change}` as Cause,
  read: (text) => {
    const [leadId = '', change = 'booked'] = text.split(' ');
    return { leadId, change: change as BookingChange };
  },
};

/** Tells what became of a booking, with its calendar entry. */
export const booking: MailSource = {
  stops: null,
  toRider: async ({ tx, mail, contact, workshop, frame, maker, now }) => {
    const { leadId, change } = CAUSE.read(mail.cause);
    const rows = await tx.leads.listOf(leadId);
    const [lead] = rows;
    const visit = lead && (await bookedVisitOf(tx, rows.filter(isMeant(change)), now));
    if (!visit || contact.confirmedAt === null) return null;
    const stamp = { calendar: stampOf(lead), organizer: senderOf(workshop) };
    const about = { purpose: 'ask', unitId: lead.unitId, serviceKind: lead.wanted } as const;
    const link = change === 'done' ? null : (maker?.to(about) ?? null);
    const content = { ...frame, ...visit, change, offered: lead.offered, link, ...stamp };
    return { mail: 'booking', content };
  },
};

/** What of a visit was done before is no part of what is told of the rest. */
const isMeant =
  (change: BookingChange) =>
  ({ state }: LeadRow): boolean =>
    change === 'done' || state !== 'done';

/** Withdraws what waits about a booking. Returns whether any mail about it may have arrived. */
export async function withdrawBookingMails(tx: Tx, leadId: string, now: Instant): Promise<boolean> {
  const isAbout = ({ cause }: Pick<MailRow, 'cause'>): boolean => CAUSE.read(cause).leadId === leadId;
  const about = (await tx.mails.listOfKind('booking')).filter(isAbout);
  await withdrawLetters(tx, 'booking', isAbout, now);
  return about.some((mail) => mail.tries > 0);
}

/**
 * Queues the mail about what became of a booking, in place of what waits about it. Returns false where the rider gets
 * none and is to be called: no address, or one that is not confirmed or takes no mail.
 */
export async function queueBookingMail(
  tx: Tx,
  leads: readonly LeadRow[],
  change: BookingChange,
  now: Instant,
  ids: Ids,
): Promise<boolean> {
  const [lead] = leads;
  if (!lead) return true;
  const wasTold = await withdrawBookingMails(tx, lead.id, now);
  const contact = lead.riderId === null ? undefined : await tx.contacts.find(lead.riderId);
  if (!contact?.email || contact.confirmedAt === null || contact.refusedAt !== null) return false;
  // What was never told need not be taken back.
  if ((change === 'cancelled' || change === 'done') && !wasTold) return true;
  const told = change === 'moved' && !wasTold ? 'booked' : change;
  await addLetter(
    tx,
    { mail: 'booking', to: contact.riderId, cause: CAUSE.write({ leadId: lead.id, change: told }) },
    now,
    ids,
  );
  return true;
}
