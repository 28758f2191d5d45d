import { dayOf } from '../../core/days/calendar.js';
import type { Cause, LetterKind, MailSlot } from '../../core/notices/notice/notice.js';
import type { Ids } from '../../ports/ids.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { getWorkshop } from '../settings.js';
import { newMessageId } from './outgoing.js';

export interface NewLetter {
  readonly mail: LetterKind;
  readonly to: string;
  readonly cause: Cause;
}

/** Queues a mail that carries no notice: it answers what somebody just did, at once or `later`. */
export async function addLetter(
  tx: Tx,
  letter: NewLetter,
  now: Instant,
  ids: Ids,
  later?: Pick<MailSlot, 'day' | 'sendAt'>,
): Promise<void> {
  const workshop = await getWorkshop(tx);
  const { day, sendAt } = later ?? { day: dayOf(now, workshop.timeZone), sendAt: now };
  const when = { day, sendAt, queuedAt: now, nextTryAt: sendAt };
  await tx.mails.add({ ...letter, ...when, messageId: newMessageId(workshop, ids) });
}

/** Withdraws what waits of a kind, as far as it is meant. */
export async function withdrawLetters(
  tx: Tx,
  mail: LetterKind,
  isMeant: (letter: { readonly to: string; readonly cause: Cause }) => boolean,
  now: Instant,
): Promise<void> {
  for (const one of await tx.mails.listOfKind(mail))
    if (one.state === 'waiting' && isMeant(one))
      await tx.mails.update(one.id, { state: 'withdrawn', settledAt: now });
}
