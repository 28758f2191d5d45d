import type { Cause, MailSlot, Recipient } from '../core/notices/notice/notice.js';
import type { Day, Instant } from '../units.js';
import type { OutgoingMail } from './mailer.js';

export const MAIL_STATES = ['waiting', 'not-sent', 'handed-over', 'withdrawn', 'refused'] as const;

/** `not-sent`: written down while there was no relay. */
export type MailState = (typeof MAIL_STATES)[number];

export interface MailRow extends MailSlot {
  readonly id: string;
  readonly messageId: string;
  readonly to: Recipient;
  readonly cause: Cause;
  readonly state: MailState;
  readonly queuedAt: Instant;
  readonly tries: number;
  readonly nextTryAt: Instant;
  readonly settledAt: Instant | null;
  /** Written once, before the first try, so that every try carries the same mail. */
  readonly written: OutgoingMail | null;
  /** How many notices it tells of as written. */
  readonly told: number | null;
  /** What the relay answered last. */
  readonly answer: string | null;
}

/** A mail as lists show it, without what is in it. */
export type MailLine = Omit<MailRow, 'written'> & { readonly isWritten: boolean };

/** What became of a mail, without what is in it. */
export type MailFate = Pick<MailRow, 'id' | 'mail' | 'day' | 'sendAt' | 'state' | 'tries' | 'settledAt'>;

export interface MailTable {
  list(): Promise<readonly MailRow[]>;
  listFates(ids?: readonly string[]): Promise<readonly MailFate[]>;
  /** The day of the last one of a kind that was handed over. */
  lastDayOf(kind: MailRow['mail']): Promise<Day | null>;
  countIn(state: MailState): Promise<number>;
  listIn(state: MailState): Promise<readonly MailRow[]>;
  listOfKind(kind: MailRow['mail']): Promise<readonly MailRow[]>;
  /** Waiting ones in the order in which they go out, then the others by when they were settled, the latest first. */
  listLatest(of: {
    readonly state?: MailState | undefined;
    readonly most: number;
  }): Promise<readonly MailLine[]>;
  /** Of those refused for good since a moment: how many. */
  countRefused(since: Instant): Promise<number>;
  listTo(recipient: Recipient): Promise<readonly MailRow[]>;
  /** The last ones to a recipient, the latest first. */
  listLatestTo(recipient: Recipient, most: number): Promise<readonly MailLine[]>;
  /** Those to a recipient whose written mail holds one of the texts. */
  listHolding(recipient: Recipient, texts: readonly string[]): Promise<readonly MailRow[]>;
  find(id: string): Promise<MailRow | undefined>;
  /**
   * Of the mails whose time has come and that wait: how many, since when the oldest, how many were tried in vain, and what
   * was answered to one of these.
   */
  summary(now: Instant): Promise<{
    readonly waiting: number;
    readonly oldestSendAt: Instant | null;
    readonly tried: number;
    readonly answer: string | null;
  }>;
  /**
   * The one that may be tried next, safety first and none of the kinds that are held; with `safety` only those that bear
   * on it, or only the others. No other worker is given it until it is released or the claim runs out.
   */
  claimNext(
    now: Instant,
    of?: { readonly held?: readonly MailRow['mail'][]; readonly safety?: boolean | undefined },
  ): Promise<MailRow | undefined>;
  release(id: string): Promise<void>;
  /** The waiting, unwritten one that a notice with this slot goes in. */
  findOpen(slot: Pick<MailRow, 'mail' | 'day' | 'to' | 'cause'>): Promise<MailRow | undefined>;
  add(
    mail: Pick<MailRow, 'messageId' | 'mail' | 'day' | 'sendAt' | 'to' | 'cause' | 'queuedAt' | 'nextTryAt'>,
  ): Promise<MailRow>;
  update(
    id: string,
    change: Partial<
      Pick<
        MailRow,
        'messageId' | 'state' | 'tries' | 'nextTryAt' | 'settledAt' | 'written' | 'told' | 'answer'
      >
    >,
  ): Promise<void>;
}
