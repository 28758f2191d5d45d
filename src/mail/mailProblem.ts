import { hasUnseen } from '../core/lines.js';
import type { Mailbox, OutgoingMail } from '../ports/mailer.js';
import { type Problem, problem } from '../problems.js';
import { addressProblem } from './address.js';

const MESSAGE_ID = /^<[A-Za-z0-9.!#$%&'*+/=?^_`{|}~-]+@[A-Za-z0-9.-]+>$/;
const FIELD_NAME = /^[A-Za-z][A-Za-z0-9-]*$/;
/** RFC 5322 2.1.1: no line over 998 octets, and a value without spaces cannot be folded. */
const LONGEST_VALUE = 900;

/** Fields that the mail itself carries, and those that a bystander could use to add readers or parts. */
const OWN_FIELDS = new Set([
  'from',
  'sender',
  'to',
  'cc',
  'bcc',
  'reply-to',
  'subject',
  'date',
  'message-id',
  'mime-version',
  'content-type',
  'content-transfer-encoding',
  'dkim-signature',
]);

const unsafe = (field: string): Problem =>
  problem(
    'mail-header',
    `The mail's ${field} holds a line break or a hidden character, so it was not sent.`,
    field,
  );

const mailboxProblem = (field: string, mailbox: Mailbox): Problem | null =>
  hasUnseen(mailbox.name) ? unsafe(`${field} name`) : addressProblem(mailbox.address);

const headerProblem = ([name, value]: [string, string]): Problem | null => {
  if (!FIELD_NAME.test(name)) return unsafe('header name');
  if (OWN_FIELDS.has(name.toLowerCase()))
    return problem('mail-header', `${name} is set by the mail itself and cannot be given twice.`, name);
  if (hasUnseen(value)) return unsafe(name);
  if (Buffer.byteLength(value) > LONGEST_VALUE)
    return problem('mail-header', `The mail's ${name} is too long to be sent.`, name);
  return null;
};

/**
 * Returns why a mail may not be sent as it stands, or null: nothing in it may start a header of its own.
 * Source: RFC 5322 2.2 (a field's body holds no line break but folding); ASVS 5.0 1.3.11.
 */
export const mailProblem = (mail: OutgoingMail): Problem | null => {
  if (!MESSAGE_ID.test(mail.messageId)) return unsafe('message id');
  if (hasUnseen(mail.subject)) return unsafe('subject');
  const mailboxes = [
    mailboxProblem('sender', mail.from),
    mail.replyTo === null ? null : mailboxProblem('reply', mail.replyTo),
    mailboxProblem('recipient', mail.to),
  ];
  const headers = Object.entries(mail.headers).map(headerProblem);
  const attachments = (mail.attachments ?? []).map((part) =>
    hasUnseen(part.filename) || hasUnseen(part.contentType) ? unsafe('attachment') : null,
  );
  return [...mailboxes, ...headers, ...attachments].find((found) => found !== null) ?? null;
};
