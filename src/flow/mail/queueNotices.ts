import { dayOf } from '../../core/days/calendar.js';
import { decideNotices, REMINDERS_A_DAY } from '../../core/notices/decideNotices.js';
import {
  type Decision,
  keepsPlace,
  type MailKind,
  NO_CAUSE,
  type NoticeInput,
  type NoticeRider,
  type PastNotice,
} from '../../core/notices/notice/notice.js';
import type { Contact } from '../../ports/contacts.js';
import type { Ids } from '../../ports/ids.js';
import type { Mailer } from '../../ports/mailer.js';
import type { MailFate } from '../../ports/mails.js';
import type { NoticeRow } from '../../ports/notices.js';
import type { Tx } from '../../ports/store.js';
import { DAY_MS, type Instant, instant } from '../../units.js';
import { type DoubtedClock, doubtText, findClockDoubt, mailsHeld } from '../clockDoubt.js';
import type { Deps } from '../deps.js';
import { settleLeads } from '../plan/leads.js';
import { findWorkshop, getWorkshop, hasBegun } from '../settings.js';
import { listInvitations } from './listInvitations.js';
import { listSubjects } from './listSubjects.js';
import { sendLettersAgain } from './notSent.js';
import { newMessageId } from './outgoing.js';
import { findSilence } from './silences.js';

/** A decision with the mail that it went in, if any. */
export interface Decided extends Decision {
  readonly messageId: string | null;
}

/**
 * Decides today's notices and queues, withdraws or lapses them in the same transaction.
 * With `dry` nothing is changed; with `withdrawOnly` nothing new is queued.
 */
export async function queueNotices(
  { store, clock, ids, mailer }: Pick<Deps, 'store' | 'clock' | 'ids'> & { readonly mailer?: Mailer },
  options: {
    readonly dry?: boolean;
    readonly withdrawOnly?: boolean;
    /** Nothing but what bears on safety is decided. */
    readonly safetyOnly?: boolean;
    /** As if reminders had begun; with `dry` alone. */
    readonly asBegun?: boolean;
  } = {},
): Promise<Decided[]> {
  const now = clock.now();
  const work = async (tx: Tx): Promise<Decided[]> => {
    const input = await gatherNotices(tx, now, mailer?.keepsOnly !== true);
    if (!input) return [];
    const doubt = await findClockDoubt(tx, clock);
    const held = mailsHeld(doubt);
    if (!options.dry && !options.safetyOnly && doubt === null)
      await settleLeads(tx, input.subjects, now, ids);
    if (!options.dry && input.hasRelay) await sendLettersAgain(tx, now);
    const decided: Decided[] = [];
    const asked = options.asBegun ? { ...input, hasBegun: true } : input;
    for (const decision of decideNotices(asked)) {
      if (options.withdrawOnly && decision.decision === 'queue') continue;
      if (options.safetyOnly && decision.slot?.mail !== 'stop-riding') continue;
      if (doubt !== null && (decision.slot === null || held.includes(decision.slot.mail))) {
        decided.push(heldBy(doubt, decision));
        continue;
      }
      decided.push(
        options.dry
          ? { ...decision, messageId: null }
          : await carryOut(tx, decision, { now, ids, hasRelay: input.hasRelay }),
      );
    }
    return decided;
  };
  return options.dry ? store.read(work) : store.write(work);
}

/** While the clock is doubted nothing is decided by it. */
const heldBy = (doubt: DoubtedClock, decision: Decision): Decided => ({
  ...decision,
  decision: decision.decision === 'queue' ? 'hold' : decision.decision,
  reason: decision.decision === 'queue' ? doubtText(doubt) : decision.reason,
  messageId: null,
});

/** Returns all that notices are decided on; null before there is a workshop. */
export async function gatherNotices(tx: Tx, now: Instant, hasRelay: boolean): Promise<NoticeInput | null> {
  const workshop = (await findWorkshop(tx))?.body;
  if (!workshop) return null;
  const { timeZone, openDays, digestHour, closedDays = [] } = workshop;
  return {
    now,
    workshop: { timeZone, openDays, closedDays, digestHour },
    subjects: await listSubjects(tx, now, timeZone),
    riders: await listRiders(tx, now, timeZone),
    invitations: await listInvitations(tx, now),
    past: await listPast(tx),
    hasBegun: hasBegun(workshop, dayOf(now, timeZone)),
    hasRelay,
    reminderMailsADay: REMINDERS_A_DAY,
  };
}

async function listRiders(tx: Tx, now: Instant, zone: string): Promise<NoticeRider[]> {
  const riders: NoticeRider[] = [];
  const settling = await tx.rides.listSettling(settledSince(now));
  for (const contact of await tx.contacts.list()) {
    const silence = await findSilence(tx, contact.riderId, now, zone);
    riders.push(noticeRider(contact, silence, settling.has(contact.riderId)));
  }
  return riders;
}

const addressOf = ({ email, refusedAt, confirmedAt }: Contact): NoticeRider['address'] => {
  if (email === null) return 'none';
  if (refusedAt !== null) return 'refused';
  return confirmedAt === null ? 'unconfirmed' : 'confirmed';
};

/** So long reminders wait for the word on rides that came. */
const SETTLING_MS = 3 * DAY_MS;

/** Since when rides came that are still being settled. */
export const settledSince = (now: Instant): Instant => instant(now - SETTLING_MS);

/** Returns what notices know of a rider. */
export const noticeRider = (
  contact: Contact,
  silence: NoticeRider['silence'],
  isSettling = false,
): NoticeRider => ({
  id: contact.riderId,
  address: addressOf(contact),
  addressId: contact.addressId,
  isUnsubscribed: contact.unsubscribedAt !== null,
  silence,
  ...(isSettling ? { isSettling } : {}),
});

/** Returns every notice that was decided before, or those about some units. */
export async function listPast(tx: Tx, unitIds?: readonly string[]): Promise<PastNotice[]> {
  const notices = unitIds === undefined ? await tx.notices.list() : await tx.notices.listOfUnits(unitIds);
  const mailIds = unitIds === undefined ? undefined : [...new Set(notices.map(({ mailId }) => mailId))];
  const mails = new Map((await tx.mails.listFates(mailIds)).map((mail) => [mail.id, mail]));
  return notices.map((notice) => pastOf(notice, mails.get(notice.mailId)!));
}

/** Returns a notice with what became of its mail. */
export function pastOf(notice: NoticeRow, mail: MailFate): PastNotice {
  const isWithdrawn = notice.withdrawnAt !== null || mail.state === 'withdrawn';
  return {
    ...notice,
    mail: mail.mail,
    day: mail.day,
    sendAt: mail.sendAt,
    status: isWithdrawn
      ? 'withdrawn'
      : mail.state === 'waiting'
        ? 'queued'
        : (mail.state as 'handed-over' | 'refused'),
    wasTried: notice.withdrawnAt === null ? mail.tries > 0 : notice.keepsPlace,
    settledAt: mail.settledAt,
    hasLapsed: notice.lapsedAt !== null,
  };
}

const isGathered = (mail: MailKind): boolean => mail === 'digest' || mail === 'invitation';

async function carryOut(
  tx: Tx,
  decision: Decision,
  { now, ids, hasRelay }: { readonly now: Instant; readonly ids: Ids; readonly hasRelay: boolean },
): Promise<Decided> {
  const { noticeId, slot } = decision;
  if (decision.decision === 'queue' && slot !== null) {
    const about = {
      mail: slot.mail,
      day: slot.day,
      to: decision.to,
      // The workshop's list of the day is one mail whatever it tells, and so are the invitations of a rider.
      cause: decision.unitId === null && !isGathered(slot.mail) ? decision.cause : NO_CAUSE,
    };
    const mail =
      (await tx.mails.findOpen(about)) ??
      (await tx.mails.add({
        ...about,
        messageId: newMessageId(await getWorkshop(tx), ids),
        sendAt: slot.sendAt,
        queuedAt: now,
        nextTryAt: slot.sendAt,
      }));
    const isNew = await tx.notices.add({ ...decision, mailId: mail.id, decidedAt: now });
    return { ...decision, decision: isNew ? 'queue' : 'already', messageId: mail.messageId };
  }
  const notice = noticeId === null ? undefined : await tx.notices.find(noticeId);
  const mail = notice && (await tx.mails.find(notice.mailId));
  if (notice && mail && decision.decision === 'withdraw') {
    const past = { ...pastOf(notice, mail), status: 'withdrawn' as const };
    await tx.notices.withdraw(notice.id, now, !keepsPlace(past));
    if (mail.state === 'not-sent') await notSentChanged(tx, mail.id, now, hasRelay);
  }
  if (notice && decision.decision === 'lapse') await tx.notices.lapse(notice.id, now);
  return { ...decision, messageId: mail?.messageId ?? null };
}

/** A mail that was only written down says something else now: its file is written anew or, with nothing left, taken away. */
async function notSentChanged(tx: Tx, mailId: string, now: Instant, hasRelay: boolean): Promise<void> {
  const isLeft = (await tx.notices.listOfMail(mailId)).some((one) => one.withdrawnAt === null);
  if (!hasRelay)
    await tx.mails.update(mailId, { state: 'waiting', nextTryAt: now, written: null, told: null });
  else if (!isLeft) await tx.mails.update(mailId, { state: 'withdrawn', settledAt: now });
}
