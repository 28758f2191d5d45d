import { nextTry } from '../../core/notices/nextTry.js';
import { isLetter, WORKSHOP } from '../../core/notices/notice/notice.js';
import { ServiceError } from '../../errors.js';
import type { Turn } from '../../ports/loops.js';
import type { OutgoingMail } from '../../ports/mailer.js';
import type { MailRow } from '../../ports/mails.js';
import type { NoticeRow } from '../../ports/notices.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { findClockDoubt, mailsHeld } from '../clockDoubt.js';
import type { Deps } from '../deps.js';
import { getWorkshop } from '../settings.js';
import { WHOLE_TURN } from '../turn.js';
import { composeMail } from './composeMail.js';
import { newMessageId } from './outgoing.js';
import { whichHold } from './whichHold.js';

/** Mails that bear on safety, the others, or all. Each may go by itself: no stuck mail of one holds up the other. */
export type Which = 'safety' | 'others' | 'all';

type Outcome = 'none' | 'handed-over' | 'not-sent' | 'withdrawn' | 'refused' | 'waits';

/**
 * Hands over one waiting mail; says what became of it. It is sent before it is marked: after a crash in between it
 * goes again with the same Message-ID, and none is lost.
 */
async function deliverNext(deps: Deps, which: Which, signal: AbortSignal): Promise<Outcome> {
  const now = deps.clock.now();
  const began = performance.now();
  const mail = await prepare(deps, which, now);
  if (mail === 'none') return mail;
  if ('withdrawn' in mail) {
    if (deps.mailer.keepsOnly) await deps.mailer.remove?.(mail.withdrawn);
    return 'withdrawn';
  }
  try {
    await deps.mailer.deliver(mail.written!, signal);
  } catch (error) {
    if (!(error instanceof ServiceError) || error.code !== 'mail-failed') throw error;
    const outcome = await deps.store.write((tx) => notHandedOver(tx, mail, error, now));
    await logMail(deps, mail, { outcome, ms: performance.now() - began, why: error.message });
    return outcome;
  }
  await deps.store.write(async (tx) => {
    await tx.mails.update(
      mail.id,
      deps.mailer.keepsOnly
        ? { state: 'not-sent', tries: 0, answer: null }
        : { state: 'handed-over', settledAt: now, answer: null },
    );
    await tx.mails.release(mail.id);
  });
  const outcome = deps.mailer.keepsOnly ? 'not-sent' : 'handed-over';
  await logMail(deps, mail, { outcome, ms: performance.now() - began });
  return outcome;
}

/** By id and handle: what is in a mail, its address and what a relay says of it name somebody. */
async function logMail(
  { store, log }: Deps,
  { id, mail, to, tries }: MailRow,
  { outcome, ms, why }: { readonly outcome: Outcome; readonly ms: number; readonly why?: string },
): Promise<void> {
  const handles =
    to === WORKSHOP ? new Map<string, string>() : await store.read((tx) => tx.handles.listOf('rider', [to]));
  log.info(
    {
      ...{ mail: id, kind: mail, to: handles.get(to) ?? to, tries, outcome, ms: Math.round(ms) },
      ...(why !== undefined && { why: why.split(':')[0] }),
    },
    outcome === 'handed-over' ? 'a mail was handed over' : 'a mail was not handed over',
  );
}

/** A relay that fails so often in a row is out of order: the rest waits for the next round. */
const MOST_FAILURES = 3;

/** Hands over what waits, safety first; true where the turn was over before all was. */
export async function deliverOutbox(
  deps: Deps,
  turn: Turn = WHOLE_TURN,
  which: Which = 'all',
): Promise<boolean> {
  for (let failures = 0; failures < MOST_FAILURES; ) {
    turn.doing('handing over a mail');
    const outcome = await deliverNext(deps, which, turn.signal);
    if (outcome === 'none') return false;
    failures = outcome === 'waits' ? failures + 1 : 0;
    if (turn.isOver()) return true;
  }
  return false;
}

/**
 * Lets mails that a relay did not take be tried at once, when a person may have put it right. It does not count as one
 * more of their tries. Else a program that is started over and over would give them up within the hour.
 */
export const tryAgainNow = ({ store, clock }: Pick<Deps, 'store' | 'clock'>): Promise<void> =>
  store.write(async (tx) => {
    const now = clock.now();
    for (const { id, tries, nextTryAt } of await tx.mails.listIn('waiting'))
      if (tries > 0 && nextTryAt > now)
        await tx.mails.update(id, { nextTryAt: now, tries: Math.max(1, tries - 1) });
  });

type Prepared = MailRow | 'none' | { readonly withdrawn: string };

/**
 * Writes the next mail down for good, or withdraws it where its reasons have gone since it was queued. What the workshop
 * is told may be long, so nobody waits while it is written.
 */
async function prepare(deps: Deps, which: Which, now: Instant): Promise<Prepared> {
  const first = await deps.store.write(async (tx): Promise<Prepared | { readonly long: MailRow }> => {
    const held = mailsHeld(await findClockDoubt(tx, deps.clock));
    const safety = which === 'all' ? undefined : which === 'safety';
    const mail = await tx.mails.claimNext(now, { held, safety });
    if (!mail) return 'none';
    return mail.to === WORKSHOP ? { long: mail } : settle(tx, mail, await draft(tx, mail, deps, now), now);
  });
  if (first === 'none' || !('long' in first)) return first;
  const { long } = first;
  const written = await deps.store.read(async (tx) => ({
    ...(await draft(tx, long, deps, now)),
    from: await standsOn(tx, long),
  }));
  const settled = await deps.store.write(async (tx) => {
    if ((await standsOn(tx, long)) === written.from) return settle(tx, long, written, now);
    await tx.mails.release(long.id);
    return null;
  });
  return settled ?? prepare(deps, which, now);
}

/** What a mail to the workshop is written from: a notice may join it, one be withdrawn, or a rider be forgotten meanwhile. */
const standsOn = async (tx: Tx, { id }: MailRow): Promise<string> =>
  JSON.stringify([
    (await tx.mails.find(id))?.state,
    (await tx.notices.listOfMail(id)).map((notice) => [notice.id, notice.withdrawnAt]),
    await tx.contacts.count(),
  ]);

interface DraftOfMail {
  /** Null where nothing is left to be told. */
  readonly ready: MailRow | null;
  readonly holding: readonly NoticeRow[];
  /** Those whose reasons have gone. */
  readonly gone: readonly NoticeRow[];
}

async function draft(tx: Tx, mail: MailRow, deps: Deps, now: Instant): Promise<DraftOfMail> {
  const notices = isLetter(mail.mail) ? [] : await tx.notices.listOfMail(mail.id);
  const standing = notices.filter(({ withdrawnAt }) => withdrawnAt === null);
  const holding = standing.length === 0 ? [] : await whichHold(tx, standing, mail, now);
  const kept = new Set(holding);
  return {
    ready: await writtenFor(tx, mail, holding, deps, now),
    ...{ holding, gone: standing.filter((notice) => !kept.has(notice)) },
  };
}

async function settle(
  tx: Tx,
  mail: MailRow,
  { ready, holding, gone }: DraftOfMail,
  now: Instant,
): Promise<MailRow | { readonly withdrawn: string }> {
  for (const notice of ready === null ? [...gone, ...holding] : gone)
    await tx.notices.withdraw(notice.id, now, mail.tries === 0);
  if (ready === null) {
    await tx.mails.update(mail.id, { state: 'withdrawn', settledAt: now });
    await tx.mails.release(mail.id);
    return { withdrawn: mail.messageId };
  }
  const { messageId, written, told } = ready;
  await tx.mails.update(mail.id, { messageId, written, told, tries: mail.tries + 1 });
  return { ...ready, tries: mail.tries + 1 };
}

/**
 * Every try carries the same mail; one that would tell of something withdrawn since, or go to an address that is no
 * longer the reader's, is written anew, as another mail.
 */
async function writtenFor(
  tx: Tx,
  mail: MailRow,
  notices: readonly NoticeRow[],
  pen: Pick<Deps, 'writer' | 'ids' | 'links'>,
  now: Instant,
): Promise<MailRow | null> {
  if (!isLetter(mail.mail) && notices.length === 0) return null;
  const isSame = mail.written !== null && mail.told === notices.length && (await isToReader(tx, mail));
  if (isSame) return mail;
  const messageId = mail.written === null ? mail.messageId : newMessageId(await getWorkshop(tx), pen.ids);
  const fresh = { ...mail, messageId };
  const written: OutgoingMail | null = await composeMail(tx, fresh, notices, pen, now);
  return written && { ...mail, messageId, written, told: notices.length };
}

const isToReader = async (tx: Tx, { to, written }: MailRow): Promise<boolean> =>
  to === WORKSHOP || (await tx.contacts.find(to))?.email === written?.to.address;

async function notHandedOver(
  tx: Tx,
  mail: MailRow,
  error: ServiceError,
  now: Instant,
): Promise<'waits' | 'refused'> {
  await tx.mails.release(mail.id);
  const next = error.permanent ? null : nextTry(mail.written!.date, mail.tries);
  if (next !== null) {
    await tx.mails.update(mail.id, { nextTryAt: next > now ? next : now, answer: error.message });
    return 'waits';
  }
  await tx.mails.update(mail.id, { state: 'refused', settledAt: now, answer: error.message });
  if (mail.to !== WORKSHOP) await tx.contacts.markRefused(mail.to, now);
  return 'refused';
}
