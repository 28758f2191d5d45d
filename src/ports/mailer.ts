import type { FeedEntry, ToldMail } from '../core/notices/mailContent.js';
import type { MailKind } from '../core/notices/notice/notice.js';
import type { Instant } from '../units.js';

export interface Mailer {
  /** Mails are written down for want of a relay: nobody gets them, and they count as not sent. */
  readonly keepsOnly?: boolean;
  /**
   * Ends within a minute, or once `signal` is aborted, whatever the relay does.
   * Errors: ServiceError `mail-failed`, permanent where the relay refused for good.
   */
  deliver(mail: OutgoingMail, signal?: AbortSignal): Promise<void>;
  /** Takes back a mail that was only written down; one that is not there is no fault. */
  remove?(messageId: string): Promise<void>;
}

/** Puts what a rider or the workshop is written into words, in the reader's language. */
export interface MailWriter {
  /** With the calendar entry attached where a day is booked. */
  write<K extends MailKind>(told: ToldMail<K>): Letter & Pick<OutgoingMail, 'attachments'>;
  /** Headers beyond addresses, subject, date and id; `stop` null for mails that cannot be unsubscribed from. */
  headers(language: string, stop: StopWays | null): Readonly<Record<string, string>>;
}

/** How a reader stops reminders. */
export interface StopWays {
  /** The address to which a mail asks for it. */
  readonly address: string;
  /** A page that takes one click, only where the mail goes out signed and the page is under HTTPS. */
  readonly oneClickUrl: string | null;
}

/** Returns the bookings as a calendar that others may read along. */
export type FeedWriter = (
  workshop: { readonly name: string; readonly language: string },
  entries: readonly FeedEntry[],
) => string;

export interface Letter {
  readonly subject: string;
  readonly text: string;
  readonly html: string;
}

export interface Mailbox {
  readonly name: string;
  readonly address: string;
}

export interface OutgoingMail {
  /** With its angle brackets. */
  readonly messageId: string;
  readonly date: Instant;
  readonly from: Mailbox;
  readonly replyTo: Mailbox | null;
  readonly to: Mailbox;
  readonly subject: string;
  readonly text: string;
  readonly html: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly attachments?: readonly {
    readonly filename: string;
    readonly contentType: string;
    readonly content: string;
  }[];
}
