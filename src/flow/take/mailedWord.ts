import { dayOf } from '../../core/days/calendar.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import { getWorkshop } from '../settings.js';
import { findRidesAddress, type RidesMailbox } from './whoseMail.js';

/** A rider’s way to mail rides, and what they said of it. */
export interface MailedWord {
  readonly address: string;
  readonly isAnswered: boolean;
  /** The last mail that was taken. */
  readonly last: { readonly day: Day; readonly files: number } | null;
}

export async function getMailedWord(tx: Tx, mailbox: RidesMailbox, riderId: string): Promise<MailedWord> {
  const last = await tx.mailed.lastOf(riderId);
  const { timeZone } = await getWorkshop(tx);
  return {
    address: await findRidesAddress(tx, mailbox, riderId),
    isAnswered: await areMailsAnswered(tx, riderId),
    last: last ? { day: dayOf(last.openedAt, timeZone), files: last.files.length } : null,
  };
}

export const areMailsAnswered = async (tx: Tx, riderId: string): Promise<boolean> =>
  (await tx.mailed.rider(riderId)).answersStoppedAt === null;

export const stopAnswers = (tx: Tx, riderId: string, isStopped: boolean, now: Instant): Promise<void> =>
  tx.mailed.setAnswersStopped(riderId, isStopped ? now : null);

/** The address of before takes nothing any more. */
export const takeOtherAddress = (tx: Tx, riderId: string): Promise<void> => tx.mailed.revoke(riderId);
