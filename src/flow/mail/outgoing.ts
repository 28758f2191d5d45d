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

const DOMAIN = /^[A-Za-z0-9-]+(\.[A-Za-z0-9-]+)+$/;

/**
 * Returns a new message id under the domain of the sender's address.
 * Source: RFC 5322 3.6.4 (unique, the domain of whoever makes it), RFC 2606 section 2 (one that names nobody).
 */
export function newMessageId(workshop: WorkshopFact, ids: Ids): string {
  const domain = senderOf(workshop).address.split('@').at(-1) ?? '';
  return `<${ids.uuid()}@${DOMAIN.test(domain) ? domain.toLowerCase() : 'stanchion.invalid'}>`;
}
