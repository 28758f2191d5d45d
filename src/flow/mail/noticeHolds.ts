import { dayOf } from '../../core/days/calendar.js';
import { type MailKind, WORKSHOP } from '../../core/notices/notice.js';
import { stillHolds } from '../../core/notices/noticeHistory.js';
import { isQuiet } from '../../core/notices/noticeWishes.js';
import type { Contact } from '../../ports/contacts.js';
import type { MailRow } from '../../ports/mails.js';
import type { NoticeRow } from '../../ports/notices.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { getWorkshop } from '../settings.js';
import { listSubjects, pastOf } from './queueNotices.js';

/** No ride detail goes to an address that is not confirmed, nor a reminder to who stopped them. */
function mayGet({ email, confirmedAt, refusedAt, unsubscribedAt }: Contact, mail: MailKind): boolean {
  if (email === null || refusedAt !== null || unsubscribedAt !== null) return false;
  return (confirmedAt === null) === (mail === 'confirm-address');
}

/**
 * Returns whether a waiting notice may still be told, looked at when its mail goes out: since it was decided a service
 * may have been logged, a file come in, or the rider have answered.
 */
export async function noticeHolds(tx: Tx, notice: NoticeRow, mail: MailRow, now: Instant): Promise<boolean> {
  const { timeZone } = await getWorkshop(tx);
  if (notice.to !== WORKSHOP) {
    const contact = await tx.contacts.find(notice.to);
    if (!contact || !mayGet(contact, mail.mail)) return false;
    if (notice.occasion === 'confirm-address') return contact.addressId === notice.cause;
  }
  if (notice.occasion === 'call-rider')
    return (await tx.contacts.list()).some((one) => one.addressId === notice.cause && one.refusedAt !== null);
  if (notice.occasion === 'silence') {
    const last = await tx.rides.lastStartOfRider(notice.to);
    return last !== null && dayOf(last, timeZone) <= notice.cause;
  }
  if (notice.unitId === null) return true;
  const subjects = await listSubjects(tx, now, timeZone, notice.unitId);
  if (!stillHolds(pastOf(notice, mail), subjects)) return false;
  const subject = subjects.find(({ standing }) => standing.serviceKind === notice.serviceKind);
  const isBound = mail.mail === 'reminder' && notice.state !== 'history-unknown';
  return !(isBound && subject && isQuiet(subject, dayOf(now, timeZone)));
}
