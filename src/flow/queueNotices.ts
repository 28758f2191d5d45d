import { decideNotices } from '../core/decideNotices.js';
import {
  type Decision,
  keepsPlace,
  type NoticeRider,
  type PastNotice,
  type Subject,
} from '../core/notice.js';
import { defaultRestarts } from '../core/serviceKinds.js';
import { silenceOf } from '../core/silence.js';
import type { Ids, MailRow, NoticeRow, Tx } from '../ports.js';
import type { Instant } from '../units.js';
import type { Deps } from './deps.js';
import { findWorkshop } from './settings.js';
import { fittingAt, fittingOf } from './unitLedger.js';

/** Rides that say how often a rider rides. */
const RIDES_LOOKED_AT = 25;

/** A decision with the mail that it went in, if any. */
export interface Decided extends Decision {
  readonly messageId: string | null;
}

/**
 * Decides today's notices and queues, withdraws or lapses them in the same transaction.
 * With `dry` nothing is changed; with `withdrawOnly` nothing new is queued.
 */
export async function queueNotices(
  { store, clock, ids }: Pick<Deps, 'store' | 'clock' | 'ids'>,
  options: {
    readonly dry?: boolean;
    readonly withdrawOnly?: boolean;
  } = {},
): Promise<Decided[]> {
  const now = clock.now();
  const work = async (tx: Tx): Promise<Decided[]> => {
    const decisions = await decide(tx, now);
    const decided: Decided[] = [];
    for (const decision of decisions) {
      if (options.withdrawOnly && decision.decision === 'queue') continue;
      decided.push(options.dry ? { ...decision, messageId: null } : await carryOut(tx, decision, now, ids));
    }
    return decided;
  };
  return options.dry ? store.read(work) : store.write(work);
}

async function decide(tx: Tx, now: Instant): Promise<Decision[]> {
  const workshop = (await findWorkshop(tx))?.body;
  if (!workshop) return [];
  const { timeZone, openDays, digestHour } = workshop;
  return decideNotices({
    now,
    workshop: { timeZone, openDays, closedDays: [], digestHour },
    subjects: await listSubjects(tx, now, timeZone),
    riders: await listRiders(tx, now, timeZone),
    past: await listPast(tx),
    reminderMailsADay: null,
  });
}

/** Returns what notices are decided on: every standing, or those of one unit. */
export async function listSubjects(tx: Tx, now: Instant, zone: string, unitId?: string): Promise<Subject[]> {
  const by = unitId === undefined ? {} : { subject: unitId };
  const units = new Map((await tx.facts.list('unit', by)).map((fact) => [fact.entityId, fact.body]));
  const marks = new Map((await tx.facts.list('mark', by)).map((fact) => [fact.body.unitId, fact]));
  const bikeNow = new Map<string, string>();
  for (const fact of await tx.facts.list('fitting', by)) {
    const fitting = fittingOf(fact, zone);
    if (fittingAt([fitting], now)) bikeNow.set(fitting.unitId, fitting.bikeId);
  }
  const riders = new Map<string, string | null>();
  for (const bikeId of new Set(bikeNow.values())) {
    riders.set(bikeId, (await tx.facts.current('bike', bikeId))?.body.riderId ?? null);
  }
  const standings = unitId === undefined ? await tx.standings.list() : await tx.standings.listOf(unitId);
  return standings.flatMap((standing): Subject[] => {
    const unit = units.get(standing.unitId);
    if (!unit) return [];
    const mark = marks.get(standing.unitId);
    return [
      {
        standing,
        restarts: defaultRestarts(unit.unitKind, standing.serviceKind, []) ?? [],
        riderId: riders.get(bikeNow.get(standing.unitId) ?? '') ?? null,
        markId: mark?.body.stop ? mark.entityId : null,
        answer: null,
      },
    ];
  });
}

async function listRiders(tx: Tx, now: Instant, zone: string): Promise<NoticeRider[]> {
  const riders: NoticeRider[] = [];
  for (const contact of await tx.contacts.list()) {
    const rides = await tx.rides.listLatestOfRider(contact.riderId, RIDES_LOOKED_AT);
    riders.push({
      id: contact.riderId,
      address:
        contact.email === null
          ? 'none'
          : contact.refusedAt !== null
            ? 'refused'
            : contact.confirmedAt === null
              ? 'unconfirmed'
              : 'confirmed',
      addressId: contact.addressId,
      isUnsubscribed: contact.unsubscribedAt !== null,
      silence: silenceOf(
        rides.map((ride) => ride.start!),
        now,
        zone,
      ),
    });
  }
  return riders;
}

async function listPast(tx: Tx): Promise<PastNotice[]> {
  const mails = new Map((await tx.mails.list()).map((mail) => [mail.id, mail]));
  return (await tx.notices.list()).map((notice) => pastOf(notice, mails.get(notice.mailId)!));
}

/** Returns a notice with what became of its mail. */
export function pastOf(notice: NoticeRow, mail: MailRow): PastNotice {
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

/** Source: RFC 5322 3.6.4 (unique), RFC 2606 section 2 (a domain that names nobody). */
export const newMessageId = (ids: Ids): string => `<${ids.uuid()}@stanchion.invalid>`;

async function carryOut(tx: Tx, decision: Decision, now: Instant, ids: Ids): Promise<Decided> {
  const { noticeId, slot } = decision;
  if (decision.decision === 'queue' && slot !== null) {
    const about = {
      mail: slot.mail,
      day: slot.day,
      to: decision.to,
      cause: decision.unitId === null ? decision.cause : '',
    };
    const mail =
      (await tx.mails.findOpen(about)) ??
      (await tx.mails.add({
        ...about,
        messageId: newMessageId(ids),
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
  }
  if (notice && decision.decision === 'lapse') await tx.notices.lapse(notice.id, now);
  return { ...decision, messageId: mail?.messageId ?? null };
}
