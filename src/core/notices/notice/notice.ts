import type { Day, Instant } from '../../../units.js';
import type { Standing } from '../../ledger/due.js';
import type { Occasion, ServiceKind, State, Weekday } from '../../tokens.js';
import type { Silence } from './silence.js';

/** Beside riders' ids. */
export const WORKSHOP = 'workshop';
export type Recipient = typeof WORKSHOP | (string & {});

/** What a notice is about; there is never a second of these, unless the first was withdrawn unsent. */
export interface NoticeKey {
  readonly to: Recipient;
  readonly unitId: string | null;
  readonly serviceKind: ServiceKind | null;
  readonly periodId: string | null;
  readonly state: State | null;
  readonly occasion: Occasion;
  readonly cause: Cause;
}

declare const caused: unique symbol;
/** What else tells one reason from the next, as it is stored; only its kind knows how to read it. */
export type Cause = string & { readonly [caused]: true };
/** Of hours and months: their reason is the service period. */
export const NO_CAUSE = '' as Cause;

/** How one kind writes its cause down, and reads it. */
export interface CauseText<T> {
  write(cause: T): Cause;
  read(text: Cause): T;
}

/** Returns a cause that is one text of its own, such as a day or an id. */
export const textCause = <T extends string>(): CauseText<T> => ({
  write: (cause) => cause as string as Cause,
  read: (text) => text as string as T,
});

/** Returns the key as one text, for a unique index over all notices that keep their place. */
export const noticeKey = (of: NoticeKey): string =>
  JSON.stringify([of.to, of.unitId, of.serviceKind, of.periodId, of.state, of.occasion, of.cause]);

/** Mails that carry no notice: they answer what a rider or the workshop just did. */
export const LETTERS = [
  'booking',
  'fresh-link',
  'own-page',
  'day-asked',
  'day-withdrawn',
  'day-moved',
  'ready',
  'files-taken',
  'service-told',
  'job-question',
] as const;
export type LetterKind = (typeof LETTERS)[number];

/** Which mail a notice goes in, and the letters that carry none. */
export type MailKind =
  | 'reminder'
  | 'invitation'
  | 'digest'
  | 'stop-riding'
  | 'silence'
  | 'confirm-address'
  | LetterKind;

export const isLetter = (mail: MailKind): boolean => (LETTERS as readonly MailKind[]).includes(mail);

/** When a mail goes, and what else may go on its day. */
export interface SlotRule {
  readonly mail: MailKind;
  /** At once; at the workshop's hour of the next day that had none; the same on days when it is open. */
  readonly when: 'at-once' | 'a-day' | 'an-open-day';
  /** One mail a day of all these. */
  readonly sharesDay: readonly MailKind[];
}

/** A mail to be: all notices with the same recipient, kind of mail, day and cause share one. */
export interface MailSlot {
  readonly mail: MailKind;
  /** The local day that it counts for. */
  readonly day: Day;
  readonly sendAt: Instant;
}

/**
 * A notice that was decided before. `withdrawn` is never sent; `refused` was, and for good; `not-sent` was written down
 * while there was no relay.
 */
export interface PastNotice extends NoticeKey, MailSlot {
  readonly id: string;
  readonly status: 'queued' | 'not-sent' | 'handed-over' | 'refused' | 'withdrawn';
  /** Its mail was tried at least once: it may have arrived, whatever we heard, and can no longer change. */
  readonly wasTried: boolean;
  /** When it was handed over or refused; null before. */
  readonly settledAt: Instant | null;
  /** It was sent and its reason has since gone (a `lapse`): should that return, it is told again. */
  readonly hasLapsed: boolean;
}

/** Returns whether a past notice keeps its key: all do but those withdrawn before anybody tried to send them. */
export const keepsPlace = (notice: Pick<PastNotice, 'status' | 'wasTried'>): boolean =>
  notice.status !== 'withdrawn' || notice.wasTried;

/** Returns whether nobody was told yet: it waits, or was written down and not sent. */
export const isOpen = ({ status }: Pick<PastNotice, 'status'>): boolean =>
  status === 'queued' || status === 'not-sent';

/** What is known of a unit's service kind when notices are decided. */
export interface Subject {
  readonly standing: Standing;
  /** The clocks that the job restarts by default. */
  readonly restarts: readonly ServiceKind[];
  /** Whose bike it is on; null for nobody's. */
  readonly riderId: string | null;
  /** Which mark it is, when the state is `stop-riding`. */
  readonly markId: string | null;
  /** Somebody told the rider by another way, in this service period and of this state or worse. */
  readonly isTold?: boolean;
  /** The rider does this job at home: nothing more of its coming up until that day. Left out: no. */
  readonly homeUntil?: Day;
  /** The rider did it at home and saw what the workshop has to look at. Left out: no. */
  readonly isBadAtHome?: true;
  /** The rider's last answer about this unit: a day asked for or booked, or later; quiet until that day. */
  readonly answer: { readonly at: Instant; readonly quietUntil: Day | null } | null;
}

export interface NoticeRider {
  readonly id: string;
  readonly address: 'none' | 'unconfirmed' | 'confirmed' | 'refused';
  /** Tells one address from the next without being it. */
  readonly addressId: string;
  readonly isUnsubscribed: boolean;
  /** What the rider just sent waits for a word: hours are not whole yet. Left out: no. */
  readonly isSettling?: boolean;
  readonly silence: Silence | null;
}

/** Somebody at the workshop chose to invite a unit's rider into a quiet week. */
export interface Invitation {
  readonly unitId: string;
  /** The first day of the busy months that follow: a unit is invited once before them. */
  readonly before: Day;
  /** Whose bike it is on now. */
  readonly riderId: string | null;
  /** There is still something to invite it for, and its rider has not answered. */
  readonly isOpen: boolean;
}

export interface NoticeInput {
  readonly now: Instant;
  readonly workshop: {
    readonly timeZone: string;
    readonly openDays: readonly Weekday[];
    readonly closedDays: readonly Day[];
    readonly digestHour: number;
  };
  /** All units' service kinds: what is missing here has no reason for a notice any more. */
  readonly subjects: readonly Subject[];
  readonly riders: readonly NoticeRider[];
  /** Into quiet weeks; left out: none. */
  readonly invitations?: readonly Invitation[];
  readonly past: readonly PastNotice[];
  /** Reminders have begun. */
  readonly hasBegun: boolean;
  /** What is sent reaches somebody: what was only written down is decided anew. */
  readonly hasRelay: boolean;
  /** Most reminder mails to riders in a day, after a change of weights; null for no bound. */
  readonly reminderMailsADay: number | null;
}

export interface Decision extends NoticeKey {
  /**
   * `queue`: a new notice. `already`: it was told, or waits. `hold`: there is a reason, and another not to tell it now;
   * nothing is stored. `withdraw`: a waiting one whose reason has gone. `lapse`: a sent one whose reason has gone.
   */
  readonly decision: 'queue' | 'already' | 'hold' | 'withdraw' | 'lapse';
  readonly reason: string;
  /** The past notice that `already`, `withdraw` and `lapse` are about. */
  readonly noticeId: string | null;
  /** When a `queue` goes out, and with which mail. */
  readonly slot: MailSlot | null;
  /** The job to offer in a rider's reminder, where that is a larger one. */
  readonly offer: ServiceKind | null;
  /** Held because as many reminders go that day as may. */
  readonly isBehind?: true;
}
