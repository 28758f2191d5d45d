import { type Selectable, sql } from 'kysely';
import { type Cause, noticeKey } from '../core/notices/notice/notice.js';
import type { OutgoingMail } from '../ports/mailer.js';
import { MAIL_STATES, type MailFate, type MailLine, type MailRow, type MailTable } from '../ports/mails.js';
import type { NoticeRow, NoticeTable } from '../ports/notices.js';
import { day, type Instant, instant } from '../units.js';
import { chunked, newId, type Scope } from './scope.js';
import type { Tables } from './tables.js';
import { isGone } from './worker.js';

const instantOrNull = (ms: number | null): Instant | null => (ms === null ? null : instant(ms));

const noticeOf = (row: Selectable<Tables['notice']>): NoticeRow => ({
  id: row.id,
  to: row.recipient,
  unitId: row.unit_id,
  serviceKind: row.service_kind,
  periodId: row.period_id,
  state: row.state as NoticeRow['state'],
  occasion: row.occasion as NoticeRow['occasion'],
  cause: row.cause as Cause,
  mailId: row.mail_id,
  decidedAt: instant(row.decided_at_ms),
  withdrawnAt: instantOrNull(row.withdrawn_at_ms),
  keepsPlace: row.keeps_place === 1,
  lapsedAt: instantOrNull(row.lapsed_at_ms),
});

export function noticeTable({ db, workshopId }: Scope): NoticeTable {
  const all = () =>
    db
      .selectFrom('notice')
      .selectAll()
      .where('workshop_id', '=', workshopId)
      .orderBy('decided_at_ms')
      .orderBy('id');
  const change = (id: string) =>
    db.updateTable('notice').where('workshop_id', '=', workshopId).where('id', '=', id);
  return {
    list: async () => (await all().execute()).map(noticeOf),
    find: async (id) => {
      const row = await all().where('id', '=', id).executeTakeFirst();
      return row && noticeOf(row);
    },
    findKept: async (key) => {
      const row = await all()
        .where('key', '=', noticeKey(key))
        .where('keeps_place', '=', 1)
        .executeTakeFirst();
      return row && noticeOf(row);
    },
    listOfUnits: async (unitIds) => {
      const found: NoticeRow[] = [];
      for (const some of chunked(unitIds))
        found.push(...(await all().where('unit_id', 'in', some).execute()).map(noticeOf));
      return found;
    },
    listOfMail: async (mailId) => (await all().where('mail_id', '=', mailId).execute()).map(noticeOf),
    listFirstOfMail: async (mailId, most) => {
      const of = () =>
        db
          .selectFrom('notice')
          .selectAll()
          .where('workshop_id', '=', workshopId)
          .where('mail_id', '=', mailId);
      const found: NoticeRow[] = [];
      for (const some of [
        of().where('withdrawn_at_ms', 'is', null),
        of().where('withdrawn_at_ms', 'is not', null).orderBy('withdrawn_at_ms'),
      ]) {
        if (found.length === most) break;
        const first = some
          .orderBy('decided_at_ms')
          .orderBy('id')
          .limit(most - found.length);
        found.push(...(await first.execute()).map(noticeOf));
      }
      return found;
    },
    add: async (notice) => {
      const result = await db
        .insertInto('notice')
        .values({
          workshop_id: workshopId,
          id: newId(),
          key: noticeKey(notice),
          recipient: notice.to,
          unit_id: notice.unitId,
          service_kind: notice.serviceKind,
          period_id: notice.periodId,
          state: notice.state,
          occasion: notice.occasion,
          cause: notice.cause,
          mail_id: notice.mailId,
          decided_at_ms: notice.decidedAt,
          withdrawn_at_ms: null,
          lapsed_at_ms: null,
          keeps_place: 1,
        })
        .onConflict((on) => on.doNothing())
        .executeTakeFirst();
      return Number(result.numInsertedOrUpdatedRows ?? 0) > 0;
    },
    withdraw: async (id, at, freesPlace) => {
      await change(id)
        .set({ withdrawn_at_ms: at, keeps_place: freesPlace ? 0 : 1 })
        .where('withdrawn_at_ms', 'is', null)
        .execute();
    },
    lapse: async (id, at) => {
      await change(id).set({ lapsed_at_ms: at }).where('lapsed_at_ms', 'is', null).execute();
    },
  };
}

const fateOf = (
  row: Pick<
    Selectable<Tables['mail']>,
    'id' | 'kind' | 'day' | 'send_at_ms' | 'state' | 'tries' | 'settled_at_ms'
  >,
): MailFate => ({
  id: row.id,
  mail: row.kind as MailRow['mail'],
  day: day(row.day),
  sendAt: instant(row.send_at_ms),
  state: row.state as MailRow['state'],
  tries: row.tries,
  settledAt: instantOrNull(row.settled_at_ms),
});

type HeadRow = Omit<Selectable<Tables['mail']>, 'written' | 'claimed_by' | 'claimed_until_ms'>;

const HEAD = [
  ...(['id', 'message_id', 'kind', 'recipient', 'day', 'cause', 'send_at_ms', 'state'] as const),
  ...(['queued_at_ms', 'tries', 'next_try_at_ms', 'settled_at_ms', 'told', 'answer', 'workshop_id'] as const),
] satisfies (keyof HeadRow)[];

const mailOf = (row: Selectable<Tables['mail']>): MailRow => ({
  ...rowOf(row),
  written: row.written === null ? null : (JSON.parse(row.written) as OutgoingMail),
});

const headOf = (row: HeadRow & { readonly is_written: number }): MailLine => ({
  ...rowOf(row),
  isWritten: row.is_written === 1,
});

const rowOf = (row: HeadRow): Omit<MailRow, 'written'> => ({
  id: row.id,
  messageId: row.message_id,
  mail: row.kind as MailRow['mail'],
  to: row.recipient,
  day: day(row.day),
  cause: row.cause as Cause,
  sendAt: instant(row.send_at_ms),
  state: row.state as MailRow['state'],
  queuedAt: instant(row.queued_at_ms),
  tries: row.tries,
  nextTryAt: instant(row.next_try_at_ms),
  settledAt: instantOrNull(row.settled_at_ms),
  told: row.told,
  answer: row.answer,
});

/** As the index has it by which the latest are found. */
const SETTLED_AT = sql`coalesce(settled_at_ms, queued_at_ms)`;

/** A text as it stands inside JSON; databases share no function that finds one text in another. */
const holds = (text: string) =>
  sql<boolean>`replace(written, ${JSON.stringify(text).slice(1, -1)}, '') <> written`;

/** Longer than any try takes: after it the one who claimed a mail is taken to be gone. */
const CLAIM_MS = 10 * 60_000;
/** The kind of mail that waits behind no other. */
const SAFETY: MailRow['mail'] = 'stop-riding';

export function mailTable({ db, workshopId, worker, isShared, clockMs }: Scope): MailTable {
  const all = () => db.selectFrom('mail').selectAll().where('workshop_id', '=', workshopId);
  const heads = () =>
    db
      .selectFrom('mail')
      .select(HEAD)
      .select(sql<number>`case when written is null then 0 else 1 end`.as('is_written'))
      .where('workshop_id', '=', workshopId);
  const listGone = async (): Promise<string[]> => {
    const rows = await db
      .selectFrom('mail')
      .select('claimed_by')
      .distinct()
      .where('workshop_id', '=', workshopId)
      .where('state', '=', 'waiting')
      .where('claimed_by', 'is not', null)
      .execute();
    return rows.map((row) => row.claimed_by!).filter(isGone);
  };
  return {
    list: async () => (await all().orderBy('queued_at_ms').orderBy('id').execute()).map(mailOf),
    listFates: async (ids) => {
      const fates = db
        .selectFrom('mail')
        .select(['id', 'kind', 'day', 'send_at_ms', 'state', 'tries', 'settled_at_ms'])
        .where('workshop_id', '=', workshopId);
      if (ids === undefined) return (await fates.execute()).map(fateOf);
      const found: MailFate[] = [];
      for (const some of chunked(ids))
        found.push(...(await fates.where('id', 'in', some).execute()).map(fateOf));
      return found;
    },
    lastDayOf: async (kind) => {
      const row = await db
        .selectFrom('mail')
        .select('day')
        .where('workshop_id', '=', workshopId)
        .where('kind', '=', kind)
        .where('state', '=', 'handed-over')
        .orderBy('queued_at_ms', 'desc')
        .orderBy('id', 'desc')
        .limit(1)
        .executeTakeFirst();
      return row === undefined ? null : day(row.day);
    },
    countIn: async (state) => {
      const row = await db
        .selectFrom('mail')
        .select((of) => of.fn.countAll<number>().as('count'))
        .where('workshop_id', '=', workshopId)
        .where('state', '=', state)
        .executeTakeFirstOrThrow();
      return Number(row.count);
    },
    listIn: async (state) =>
      (await all().where('state', '=', state).orderBy('queued_at_ms').orderBy('id').execute()).map(mailOf),
    listOfKind: async (kind) =>
      (await all().where('kind', '=', kind).orderBy('queued_at_ms').orderBy('id').execute()).map(mailOf),
    listLatest: async ({ state, most }) => {
      const found: MailLine[] = [];
      if (state === undefined || state === 'waiting') {
        const waiting = heads().where('state', '=', 'waiting').orderBy('next_try_at_ms').orderBy('id');
        found.push(...(await waiting.limit(most).execute()).map(headOf));
      }
      // Of each state the latest, in the order of an index: a list of all would have to be sorted.
      const latest: MailLine[] = [];
      for (const one of MAIL_STATES) {
        if (one === 'waiting' || (state !== undefined && state !== one) || found.length === most) continue;
        const settled = heads().where('state', '=', one).orderBy(SETTLED_AT, 'desc').orderBy('id');
        latest.push(...(await settled.limit(most - found.length).execute()).map(headOf));
      }
      const at = ({ settledAt, queuedAt }: MailLine): Instant => settledAt ?? queuedAt;
      latest.sort((a, b) => at(b) - at(a) || (a.id < b.id ? -1 : 1));
      return [...found, ...latest].slice(0, most);
    },
    countRefused: async (since) => {
      const row = await db
        .selectFrom('mail')
        .select((of) => of.fn.countAll<number>().as('count'))
        .where('workshop_id', '=', workshopId)
        .where('state', '=', 'refused')
        .where('settled_at_ms', '>=', since)
        .executeTakeFirstOrThrow();
      return Number(row.count);
    },
    listTo: async (recipient) =>
      (await all().where('recipient', '=', recipient).orderBy('queued_at_ms').orderBy('id').execute()).map(
        mailOf,
      ),
    listLatestTo: async (recipient, most) =>
      (
        await heads()
          .where('recipient', '=', recipient)
          .orderBy('queued_at_ms', 'desc')
          .orderBy('id', 'desc')
          .limit(most)
          .execute()
      ).map(headOf),
    listHolding: async (recipient, texts) => {
      const rows = await all()
        .where('recipient', '=', recipient)
        .where((where) => where.or(texts.map((text) => holds(text))))
        .execute();
      return rows.map(mailOf);
    },
    find: async (id) => {
      const row = await all().where('id', '=', id).executeTakeFirst();
      return row && mailOf(row);
    },
    summary: async (now) => {
      const { waiting, oldest, tried, answer } = await db
        .selectFrom('mail')
        .select((of) => [
          of.fn.countAll<number>().as('waiting'),
          of.fn.min('send_at_ms').as('oldest'),
          of.fn.count<number>('answer').as('tried'),
          of.fn.max('answer').as('answer'),
        ])
        .where('workshop_id', '=', workshopId)
        .where('state', '=', 'waiting')
        .where('send_at_ms', '<=', now)
        .executeTakeFirstOrThrow();
      return { waiting: Number(waiting), oldestSendAt: instantOrNull(oldest), tried: Number(tried), answer };
    },
    claimNext: async (now, { held = [], safety } = {}) => {
      const gone = await listGone();
      const free = db
        .selectFrom('mail')
        .select('id')
        .where('workshop_id', '=', workshopId)
        .where('state', '=', 'waiting')
        .where('next_try_at_ms', '<=', now)
        .where('kind', 'not in', [...held, ''])
        .$if(safety !== undefined, (rows) => rows.where('kind', safety ? '=' : '<>', SAFETY))
        .where((where) =>
          where.or([
            where('claimed_by', 'is', null),
            where('claimed_by', '=', worker),
            where('claimed_until_ms', '<=', clockMs),
            ...(gone.length > 0 ? [where('claimed_by', 'in', gone)] : []),
          ]),
        )
        .orderBy((of) => of.case().when('kind', '=', SAFETY).then(0).else(1).end())
        .orderBy('next_try_at_ms')
        .orderBy('id')
        .limit(1);
      const row = await db
        .updateTable('mail')
        .set({ claimed_by: worker, claimed_until_ms: sql<number>`${clockMs} + ${CLAIM_MS}` })
        .where('id', 'in', isShared ? free.forUpdate().skipLocked() : free)
        .returningAll()
        .executeTakeFirst();
      return row && mailOf(row);
    },
    release: async (id) => {
      await db
        .updateTable('mail')
        .set({ claimed_by: null, claimed_until_ms: null })
        .where('workshop_id', '=', workshopId)
        .where('id', '=', id)
        .execute();
    },
    findOpen: async (slot) => {
      const row = await all()
        .where('state', '=', 'waiting')
        .where('written', 'is', null)
        .where('kind', '=', slot.mail)
        .where('day', '=', slot.day)
        .where('recipient', '=', slot.to)
        .where('cause', '=', slot.cause)
        .executeTakeFirst();
      return row && mailOf(row);
    },
    add: async (mail) => {
      const row = {
        workshop_id: workshopId,
        id: newId(),
        message_id: mail.messageId,
        kind: mail.mail,
        recipient: mail.to,
        day: mail.day,
        cause: mail.cause,
        send_at_ms: mail.sendAt,
        state: 'waiting',
        queued_at_ms: mail.queuedAt,
        tries: 0,
        next_try_at_ms: mail.nextTryAt,
        settled_at_ms: null,
        written: null,
        told: null,
        answer: null,
        claimed_by: null,
        claimed_until_ms: null,
      };
      await db.insertInto('mail').values(row).execute();
      return mailOf(row);
    },
    update: async (id, change) => {
      const set: Partial<Tables['mail']> = {};
      if (change.messageId !== undefined) set.message_id = change.messageId;
      if (change.state !== undefined) set.state = change.state;
      if (change.tries !== undefined) set.tries = change.tries;
      if (change.nextTryAt !== undefined) set.next_try_at_ms = change.nextTryAt;
      if (change.settledAt !== undefined) set.settled_at_ms = change.settledAt;
      if (change.written !== undefined) set.written = change.written && JSON.stringify(change.written);
      if (change.told !== undefined) set.told = change.told;
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
