/** What would go to riders, before reminders begin and while some wait behind a day's most. */
import { groupBy } from '../../core/groupBy.js';
import { decideNotices } from '../../core/notices/decideNotices.js';
import { type Decision, isLetter, NO_CAUSE, WORKSHOP } from '../../core/notices/notice/notice.js';
import type { State } from '../../core/tokens.js';
import type { MailWriter, OutgoingMail } from '../../ports/mailer.js';
import type { MailRow } from '../../ports/mails.js';
import type { NoticeRow } from '../../ports/notices.js';
import type { Tx } from '../../ports/store.js';
import type { Day, Instant } from '../../units.js';
import { getContact } from '../facts/ridersPage.js';
import { type BadAnswer, listBadAnswers } from '../home/kits.js';
import { composeMail } from './composeMail.js';
import { type CallRow, listCalls } from './listCalls.js';
import { gatherNotices } from './queueNotices.js';

/** A mail that would go to a rider. */
export interface ComingMail {
  readonly handle: string;
  readonly rider: string;
  readonly items: readonly {
    readonly tag: string;
    readonly serviceKind: string | null;
    readonly state: State | null;
  }[];
}

export interface RemindersPage {
  /** The day from which reminders go; null while they rest. */
  readonly from: Day | null;
  readonly hasBegun: boolean;
  /** What would go were they to begin now; nothing once they have. */
  readonly coming: readonly ComingMail[];
  /** What waits because as many go today as may. */
  readonly behind: readonly ComingMail[];
  /** Whom no mail reaches. */
  /** What riders saw after a job at home: they are called first. */
  readonly bad: readonly BadAnswer[];
  readonly calls: readonly CallRow[];
}

/** Returns the decisions as they would be made now, with reminders begun. */
async function decisionsNow(tx: Tx, now: Instant): Promise<{ hasBegun: boolean; decisions: Decision[] }> {
  const input = await gatherNotices(tx, now, true);
  if (!input) return { hasBegun: false, decisions: [] };
  return { hasBegun: input.hasBegun, decisions: decideNotices({ ...input, hasBegun: true }) };
}

export async function getRemindersPage(tx: Tx, now: Instant): Promise<RemindersPage> {
  const { hasBegun, decisions } = await decisionsNow(tx, now);
  const workshop = (await tx.facts.list('workshop')).at(-1)?.body;
  const isGoing = ({ decision, slot }: Decision): boolean => decision === 'queue' && !isLetter(slot!.mail);
  return {
    from: workshop?.remindersFrom ?? null,
    hasBegun,
    bad: await listBadAnswers(tx, now),
    calls: await listCalls(tx, now),
    coming: hasBegun ? [] : await byRider(tx, decisions.filter(isGoing)),
    behind: await byRider(
      tx,
      decisions.filter(({ isBehind }) => isBehind),
    ),
  };
}

async function byRider(tx: Tx, decisions: readonly Decision[]): Promise<ComingMail[]> {
  const handles = await tx.handles.all('rider');
  const tags = await tx.handles.all('unit');
  const names = new Map((await tx.contacts.list()).map(({ riderId, name }) => [riderId, name]));
  const mails = groupBy(
    decisions.filter(({ to }) => to !== WORKSHOP),
    ({ to }) => to,
  );
  return [...mails].map(([to, all]) => ({
    handle: handles.get(to) ?? to,
    rider: names.get(to) ?? '',
    items: all.map(({ unitId, serviceKind, state }) => ({
      tag: tags.get(unitId ?? '') ?? '',
      serviceKind,
      state,
    })),
  }));
}

/** Returns the mail that would go to a rider now, without links; null where none would. Errors: `not-found`. */
export async function getPreview(
  tx: Tx,
  handle: string,
  writer: MailWriter | null,
  now: Instant,
): Promise<OutgoingMail | null> {
  const { riderId } = await getContact(tx, handle);
  if (!writer) return null;
  const { decisions } = await decisionsNow(tx, now);
  const [first, ...more] = decisions.filter(
    ({ to, decision, isBehind }) => to === riderId && (decision === 'queue' || isBehind),
  );
  if (!first) return null;
  const kind = first.slot?.mail ?? 'reminder';
  const notices = [first, ...more].filter(({ slot }) => (slot?.mail ?? 'reminder') === kind);
  return composeMail(tx, mailOf(first, kind, now), notices.map(noticeOf), { writer }, now);
}

const mailOf = ({ to, slot }: Decision, mail: MailRow['mail'], now: Instant): MailRow => ({
  ...{ id: '', messageId: '', to, mail, cause: NO_CAUSE, state: 'waiting' },
  day: slot?.day ?? ('' as Day),
  ...{ sendAt: now, queuedAt: now, nextTryAt: now, settledAt: null },
  ...{ tries: 0, written: null, told: null, answer: null },
});

const noticeOf = (decision: Decision): NoticeRow => ({
  ...decision,
  ...{ id: '', mailId: '', decidedAt: 0 as Instant, withdrawnAt: null, keepsPlace: true, lapsedAt: null },
});
