import type { Selectable } from 'kysely';
import type { MailRow, MailTable, NoticeRow, NoticeTable, OutgoingMail } from '../ports.js';
import { instant } from '../units.js';
import { chunked, newId, type Scope } from './scope.js';
import type { Tables } from './tables.js';

const instantOrNull = (ms: number | null) => (ms === null ? null : instant(ms));

export function noticeTable({ db, workshopId }: Scope): NoticeTable {
  return {
    list: async () => {
      const rows = await db
        .selectFrom('notice')
        .selectAll()
        .where('workshop_id', '=', workshopId)
        .orderBy('decided_at_ms')
        .orderBy('id')
        .execute();
      return rows.map((row) => ({
        id: row.id,
        key: row.key,
        to: row.recipient,
        unitId: row.unit_id,
        serviceKind: row.service_kind,
        periodId: row.period_id,
        state: row.state as NoticeRow['state'],
        occasion: row.occasion as NoticeRow['occasion'],
        mailId: row.mail_id,
        decidedAt: instant(row.decided_at_ms),
        withdrawnAt: instantOrNull(row.withdrawn_at_ms),
      }));
    },
    add: async (notice) => {
      const result = await db
        .insertInto('notice')
        .values({
          workshop_id: workshopId,
          id: newId(),
          key: notice.key,
          recipient: notice.to,
          unit_id: notice.unitId,
          service_kind: notice.serviceKind,
          period_id: notice.periodId,
          state: notice.state,
          occasion: notice.occasion,
          mail_id: notice.mailId,
          decided_at_ms: notice.decidedAt,
          withdrawn_at_ms: null,
        })
        .onConflict((on) => on.doNothing())
        .executeTakeFirst();
      return Number(result.numInsertedOrUpdatedRows ?? 0) > 0;
    },
    withdraw: async (ids, at) => {
      for (const some of chunked(ids)) {
        await db
          .updateTable('notice')
          .set({ withdrawn_at_ms: at })
          .where('workshop_id', '=', workshopId)
          .where('withdrawn_at_ms', 'is', null)
          .where('id', 'in', some)
          .execute();
      }
    },
  };
}

const mailOf = (row: Selectable<Tables['mail']>): MailRow => ({
  id: row.id,
  messageId: row.message_id,
  kind: row.kind as MailRow['kind'],
  to: row.recipient,
  state: row.state as MailRow['state'],
  queuedAt: instant(row.queued_at_ms),
  tries: row.tries,
  nextTryAt: instant(row.next_try_at_ms),
  settledAt: instantOrNull(row.settled_at_ms),
  written: row.written === null ? null : (JSON.parse(row.written) as OutgoingMail),
  answer: row.answer,
});

export function mailTable({ db, workshopId }: Scope): MailTable {
  const all = () => db.selectFrom('mail').selectAll().where('workshop_id', '=', workshopId);
  return {
    list: async () => (await all().orderBy('queued_at_ms').orderBy('id').execute()).map(mailOf),
    find: async (id) => {
      const row = await all().where('id', '=', id).executeTakeFirst();
      return row && mailOf(row);
    },
    nextWaiting: async (now) => {
      const row = await all()
        .where('state', '=', 'waiting')
        .where('next_try_at_ms', '<=', now)
        .orderBy('next_try_at_ms')
        .orderBy('id')
        .executeTakeFirst();
      return row && mailOf(row);
    },
    add: async (mail) => {
      const row = {
        workshop_id: workshopId,
        id: newId(),
        message_id: mail.messageId,
        kind: mail.kind,
        recipient: mail.to,
        state: 'waiting',
        queued_at_ms: mail.queuedAt,
        tries: 0,
        next_try_at_ms: mail.nextTryAt,
        settled_at_ms: null,
        written: null,
        answer: null,
      };
      await db.insertInto('mail').values(row).execute();
      return mailOf(row);
    },
    update: async (id, change) => {
      const set: Partial<Tables['mail']> = {};
      if (change.state !== undefined) set.state = change.state;
      if (change.tries !== undefined) set.tries = change.tries;
      if (change.nextTryAt !== undefined) set.next_try_at_ms = change.nextTryAt;
      if (change.settledAt !== undefined) set.settled_at_ms = change.settledAt;
      if (change.written !== undefined) set.written = change.written && JSON.stringify(change.written);
      if (change.answer !== undefined) set.answer = change.answer;
      await db
        .updateTable('mail')
        .set(set)
        .where('workshop_id', '=', workshopId)
        .where('id', '=', id)
        .execute();
    },
  };
}
