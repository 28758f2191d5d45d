import { nextTry } from '../core/nextTry.js';
import { stillHolds } from '../core/noticeHistory.js';
import { ServiceError } from '../errors.js';
import type { MailRow, NoticeRow, Tx } from '../ports.js';
import type { Instant } from '../units.js';
import { composeMail } from './composeMail.js';
import type { Deps } from './deps.js';
import { listSubjects, newMessageId, pastOf } from './queueNotices.js';
import { getWorkshop } from './settings.js';

/**
 * Hands over one waiting mail; true while there may be more. It is sent before it is marked: after a crash in between
 * it goes again with the same Message-ID, and none is lost.
 */
export async function deliverOutboxOnce(deps: Deps): Promise<boolean> {
  const now = deps.clock.now();
  const mail = await deps.store.write((tx) => prepare(tx, deps, now));
  if (mail === 'none') return false;
  if (mail === 'withdrawn') return true;
  try {
    await deps.mailer.deliver(mail.written!);
  } catch (error) {
    if (!(error instanceof ServiceError) || error.code !== 'mail-failed') throw error;
    await deps.store.write((tx) => notHandedOver(tx, mail, error, now));
    return true;
  }
  await deps.store.write((tx) =>
    tx.mails.update(mail.id, { state: 'handed-over', settledAt: now, answer: null }),
  );
  return true;
}

/** Hands over all that waits. */
export async function deliverOutbox(deps: Deps): Promise<void> {
  while (await deliverOutboxOnce(deps));
}

/** Writes the next mail down for good, or withdraws it where its reasons have gone since it was queued. */
async function prepare(tx: Tx, { writer, ids }: Deps, now: Instant): Promise<MailRow | 'none' | 'withdrawn'> {
  const mail = await tx.mails.nextWaiting(now);
  if (!mail) return 'none';
  const notices = await listHolding(tx, mail, now);
  const ready = await writtenFor(tx, mail, notices, { writer, ids }, now);
  if (ready === null) {
    await tx.mails.update(mail.id, { state: 'withdrawn', settledAt: now });
    return 'withdrawn';
  }
  const { messageId, written, told } = ready;
  await tx.mails.update(mail.id, { messageId, written, told, tries: mail.tries + 1 });
  return { ...ready, tries: mail.tries + 1 };
}

/** Every try carries the same mail; one that would tell of something withdrawn since is written anew, as another mail. */
async function writtenFor(
  tx: Tx,
  mail: MailRow,
  notices: readonly NoticeRow[],
  { writer, ids }: Pick<Deps, 'writer' | 'ids'>,
  now: Instant,
): Promise<MailRow | null> {
  if (notices.length === 0) return null;
  if (mail.written !== null && mail.told === notices.length) return mail;
  const messageId = mail.written === null ? mail.messageId : newMessageId(ids);
  const written = await composeMail(tx, { ...mail, messageId }, notices, writer, now);
  return written && { ...mail, messageId, written, told: notices.length };
}

/** Returns the mail's notices whose reasons still hold, and withdraws the others. */
async function listHolding(tx: Tx, mail: MailRow, now: Instant): Promise<NoticeRow[]> {
  const holding: NoticeRow[] = [];
  for (const notice of await tx.notices.listOfMail(mail.id)) {
    if (notice.withdrawnAt !== null) continue;
    if (await holds(tx, notice, mail, now)) holding.push(notice);
    else await tx.notices.withdraw(notice.id, now, mail.tries === 0);
  }
  return holding;
}

async function holds(tx: Tx, notice: NoticeRow, mail: MailRow, now: Instant): Promise<boolean> {
  if (notice.unitId === null) return true;
  const { timeZone } = await getWorkshop(tx);
  return stillHolds(pastOf(notice, mail), await listSubjects(tx, now, timeZone, notice.unitId));
}

async function notHandedOver(tx: Tx, mail: MailRow, error: ServiceError, now: Instant): Promise<void> {
  const next = error.permanent ? null : nextTry(mail.written!.date, mail.tries);
  if (next !== null) {
    await tx.mails.update(mail.id, { nextTryAt: next > now ? next : now, answer: error.message });
    return;
  }
  await tx.mails.update(mail.id, { state: 'refused', settledAt: now, answer: error.message });
  if (mail.to !== 'workshop') await tx.contacts.markRefused(mail.to, now);
}
