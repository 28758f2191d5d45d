import type { WorkshopFact } from '../../core/ledger/facts.js';
import type { Ids } from '../../ports/ids.js';
import type { Letter, Mailbox, OutgoingMail } from '../../ports/mailer.js';
import type { MailRow } from '../../ports/mails.js';
import type { Instant } from '../../units.js';

/** A workshop that typed no address writes from one that can never exist. Source: RFC 2606 section 2. */
export const senderOf = ({ name, handle, email }: WorkshopFact): Mailbox => ({
  name,
  address: email ?? `${handle.replace(/[^A-Za-z0-9.-]/g, '-')}@stanchion.invalid`,
});

/** Returns a letter as the mail of the workshop to somebody. */
export function outgoing(
  mail: Pick<MailRow, 'messageId'>,
  workshop: WorkshopFact,
  to: Mailbox,
  letter: Letter & Pick<OutgoingMail, 'attachments'>,
  headers: OutgoingMail['headers'],
  now: Instant,
): OutgoingMail {
  const from = senderOf(workshop);
  const replyTo = workshop.email === null ? null : from;
  return { messageId: mail.messageId, date: now, from, replyTo, to, ...letter, headers };
}

/** Source: RFC 5322 3.6.4 (unique), RFC 2606 section 2 (a domain that names nobody). */
export const newMessageId = (ids: Ids): string => `<${ids.uuid()}@stanchion.invalid>`;
