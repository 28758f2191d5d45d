import { createHash } from 'node:crypto';
import type { SendMailOptions } from 'nodemailer';
import { ServiceError } from '../errors.js';
import type { OutgoingMail } from '../ports/mailer.js';
import { mailProblem } from './mailProblem.js';

/**
 * Returns the mail as nodemailer takes it; the same mail gives the same bytes, part boundaries included.
 * Errors: ServiceError `mail-failed`, permanent, where the mail may not be sent as it stands.
 */
export const mailOptions = (mail: OutgoingMail): SendMailOptions => {
  const wrong = mailProblem(mail);
  if (wrong !== null) throw new ServiceError('mail-failed', wrong.message, { permanent: true });
  return {
    messageId: mail.messageId,
    date: new Date(mail.date),
    from: { ...mail.from },
    to: { ...mail.to },
    ...(mail.replyTo === null ? {} : { replyTo: { ...mail.replyTo } }),
    subject: mail.subject,
    text: mail.text,
    html: mail.html,
    headers: { ...mail.headers },
    attachments: (mail.attachments ?? []).map((part) => ({ ...part })),
    baseBoundary: createHash('sha256').update(mail.messageId).digest('hex').slice(0, 32),
    xMailer: false,
    // Contents come as text only: nothing typed into a mail may name a file or a page to be attached.
    disableFileAccess: true,
    disableUrlAccess: true,
  };
};
