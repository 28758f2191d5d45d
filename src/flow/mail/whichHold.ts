import { dayOf } from '../../core/days/calendar.js';
import { groupBy } from '../../core/groupBy.js';
import { INVITED } from '../../core/notices/kinds/invitation.js';
import { kindOf } from '../../core/notices/kinds.js';
import { type Invitation, type NoticeRider, WORKSHOP } from '../../core/notices/notice/notice.js';
import type { MailRow } from '../../ports/mails.js';
import type { NoticeRow } from '../../ports/notices.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { getWorkshop } from '../settings.js';
import { listInvitations } from './listInvitations.js';
import { listSubjects } from './listSubjects.js';
import { noticeRider, pastOf, settledSince } from './queueNotices.js';
import { findSilence } from './silences.js';

/**
 * Returns those of a waiting mail's notices that may still be told, looked at when it goes out: since they were decided a
 * service may have been logged, a file come in, or the rider have answered.
 */
export async function whichHold(
  tx: Tx,
  notices: readonly NoticeRow[],
  mail: MailRow,
  now: Instant,
): Promise<NoticeRow[]> {
  const { timeZone } = await getWorkshop(tx);
  const today = dayOf(now, timeZone);
  const unitIds = [...new Set(notices.flatMap(({ unitId }) => unitId ?? []))];
  // The workshop's mail tells of many units, which are read at once.
  const isForMany = mail.to === WORKSHOP && unitIds.length > 1;
  const subjects = isForMany
    ? groupBy(await listSubjects(tx, now, timeZone, unitIds), ({ standing }) => standing.unitId)
    : null;
  const isAboutRiders = mail.to !== WORKSHOP || notices.some(({ unitId }) => unitId === null);
  const riders = isAboutRiders ? await ridersOf(tx, mail.to, now, timeZone) : [];
  const holding: NoticeRow[] = [];
  for (const notice of notices) {
    const { to, unitId } = notice;
    const unit =
      unitId === null ? [] : (subjects?.get(unitId) ?? (await listSubjects(tx, now, timeZone, [unitId])));
    const nowOf = {
      today,
      unit,
      riders: unitId === null || to !== WORKSHOP ? riders : [],
      invitations: notice.occasion === 'invitation' ? await invitationOf(tx, notice, now) : [],
    };
    const kind = kindOf(notice);
    if (!kind.holds(pastOf(notice, mail), nowOf)) continue;
    if (to === WORKSHOP || kind.mayGo(notice, riders[0], nowOf)) holding.push(notice);
  }
  return holding;
}

/** Returns the invitation that a notice tells of, as it stands now. */
const invitationOf = (tx: Tx, { cause }: NoticeRow, now: Instant): Promise<Invitation[]> =>
  listInvitations(tx, now, INVITED.read(cause).unitId);

/** Returns the rider that a notice goes to; of one to the workshop, all whom it may be about. */
async function ridersOf(tx: Tx, to: string, now: Instant, zone: string): Promise<NoticeRider[]> {
  if (to === WORKSHOP) return (await tx.contacts.list()).map((contact) => noticeRider(contact, null));
  const contact = await tx.contacts.find(to);
  if (!contact) return [];
  const settling = await tx.rides.listSettling(settledSince(now), to);
  return [noticeRider(contact, await findSilence(tx, to, now, zone), settling.has(to))];
}
