import { dayOf } from '../../core/days/calendar.js';
import { kindOf } from '../../core/notices/kinds.js';
import { type NoticeRider, WORKSHOP } from '../../core/notices/notice/notice.js';
import type { MailRow } from '../../ports/mails.js';
import type { NoticeRow } from '../../ports/notices.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { getWorkshop } from '../settings.js';
import { listSubjects } from './listSubjects.js';
import { noticeRider, pastOf, settledSince } from './queueNotices.js';
import { findSilence } from './silences.js';

/**
 * Returns whether a waiting notice may still be told, looked at when its mail goes out: since it was decided a service
 * may have been logged, a file come in, or the rider have answered.
 */
export async function noticeHolds(tx: Tx, notice: NoticeRow, mail: MailRow, now: Instant): Promise<boolean> {
  const { timeZone } = await getWorkshop(tx);
  const { to, unitId } = notice;
  const riders = unitId === null || to !== WORKSHOP ? await ridersOf(tx, to, now, timeZone) : [];
  const unit = unitId === null ? [] : await listSubjects(tx, now, timeZone, [unitId]);
  const nowOf = { today: dayOf(now, timeZone), unit, riders };
  const kind = kindOf(notice);
  if (!kind.holds(pastOf(notice, mail), nowOf)) return false;
  return to === WORKSHOP || kind.mayGo(notice, riders[0], nowOf);
}

/** Returns the rider that a notice goes to; of one to the workshop, all whom it may be about. */
async function ridersOf(tx: Tx, to: string, now: Instant, zone: string): Promise<NoticeRider[]> {
  if (to === WORKSHOP) return (await tx.contacts.list()).map((contact) => noticeRider(contact, null));
  const contact = await tx.contacts.find(to);
  if (!contact) return [];
  const settling = await tx.rides.listSettling(settledSince(now), to);
  return [noticeRider(contact, await findSilence(tx, to, now, zone), settling.has(to))];
}
