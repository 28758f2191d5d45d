import { type Selectable, sql } from 'kysely';
import type { Mailed, MailedFile, MailedTable } from '../ports/inbox.js';
import { instant } from '../units.js';
import { newId, type Scope } from './scope.js';
import type { Tables } from './tables.js';

const mailedOf = (row: Selectable<Tables['mailed']>): Mailed => ({
  id: row.id,
  riderId: row.rider_id,
  openedAt: instant(row.opened_at_ms),
  doneAt: row.done_at_ms === null ? null : instant(row.done_at_ms),
  files: JSON.parse(row.files) as MailedFile[],
});

export function mailedTable({ db, workshopId }: Scope): MailedTable {
  const all = () => db.selectFrom('mailed').selectAll().where('workshop_id', '=', workshopId);
  const putRider = async (
    riderId: string,
    set:
      | { readonly answers_stopped_at_ms: number | null }
      | { readonly found_stopped_at_ms: number | null }
      | { readonly epoch: number },
  ): Promise<void> => {
    await db
      .insertInto('mailed_rider')
      .values({
        workshop_id: workshopId,
        rider_id: riderId,
        epoch: 0,
        answers_stopped_at_ms: null,
        found_stopped_at_ms: null,
        ...set,
      })
      .onConflict((on) => on.columns(['workshop_id', 'rider_id']).doUpdateSet(set))
      .execute();
  };
  const rider: MailedTable['rider'] = async (riderId) => {
    const row = await db
      .selectFrom('mailed_rider')
      .selectAll()
      .where('workshop_id', '=', workshopId)
      .where('rider_id', '=', riderId)
      .executeTakeFirst();
    const stopped = row?.answers_stopped_at_ms ?? null;
    const found = row?.found_stopped_at_ms ?? null;
    return {
      epoch: row?.epoch ?? 0,
      answersStoppedAt: stopped === null ? null : instant(stopped),
      foundStoppedAt: found === null ? null : instant(found),
    };
  };
  return {
    lastUid: async (validity) => {
      const row = await db
        .selectFrom('mailbox')
        .select('last_uid')
        .where('workshop_id', '=', workshopId)
        .where('validity', '=', validity)
        .executeTakeFirst();
      return row?.last_uid ?? 0;
    },
    pass: async (validity, uid, isLeft) => {
      const left = isLeft ? 1 : 0;
      await db
        .insertInto('mailbox')
        .values({ workshop_id: workshopId, validity, last_uid: uid, left_mails: left })
        .onConflict((on) =>
          on.column('workshop_id').doUpdateSet({
            // Of two machines that read one mailbox neither goes back.
            last_uid: sql<number>`case when mailbox.validity = excluded.validity
              and mailbox.last_uid > excluded.last_uid then mailbox.last_uid else excluded.last_uid end`,
            validity,
            left_mails: sql<number>`mailbox.left_mails + ${left}`,
          }),
        )
        .execute();
    },
    countUnread: async (riderId) => {
      const { count } = await db
        .selectFrom('mailed')
        .select((of) => of.fn.countAll().as('count'))
        .where('workshop_id', '=', workshopId)
        .where('rider_id', '=', riderId)
        .where('files', 'like', '%"code":"mail-left"%')
        .executeTakeFirstOrThrow();
      return Number(count);
    },
    countUnreadSince: async (since) => {
      const { count } = await db
        .selectFrom('mailed')
        .select((of) => of.fn.countAll().as('count'))
        .where('workshop_id', '=', workshopId)
        .where('opened_at_ms', '>=', since)
        // In the words of the index.
        .where(sql<boolean>`files like '%"code":"mail-left"%'`)
        .executeTakeFirstOrThrow();
      return Number(count);
    },
    countLeft: async () => {
      const row = await db
        .selectFrom('mailbox')
        .select('left_mails')
        .where('workshop_id', '=', workshopId)
        .executeTakeFirst();
      return row?.left_mails ?? 0;
    },
    begin: async (key, riderId, now) => {
      const fresh = { done_at_ms: null, files: '[]', answer: null };
      const made = await db
        .insertInto('mailed')
        .values({
          ...fresh,
          ...{ workshop_id: workshopId, id: newId(), rider_id: riderId, key, opened_at_ms: now },
        })
        .onConflict((on) => on.columns(['workshop_id', 'key']).doNothing())
        .executeTakeFirst();
      const row = await all().where('key', '=', key).executeTakeFirstOrThrow();
      return { ...mailedOf(row), isAgain: made.numInsertedOrUpdatedRows === 0n };
    },
    finish: async (id, { files, answer }, now) => {
      await db
        .updateTable('mailed')
        .set({ files: JSON.stringify(files), answer, done_at_ms: now })
        .where('workshop_id', '=', workshopId)
        .where('id', '=', id)
        .execute();
    },
    listOfAnswer: async (answer) =>
      (await all().where('answer', '=', answer).orderBy('opened_at_ms').orderBy('id').execute()).map(
        mailedOf,
      ),
    lastOf: async (riderId) => {
      const row = await all()
        .where('rider_id', '=', riderId)
        .orderBy('opened_at_ms', 'desc')
        .limit(1)
        .executeTakeFirst();
      return row && mailedOf(row);
    },
    countSince: async (riderId, since) => {
      const row = await db
        .selectFrom('mailed')
        .select((of) => of.fn.countAll<number>().as('count'))
        .where('workshop_id', '=', workshopId)
        .where('rider_id', '=', riderId)
        .where('opened_at_ms', '>=', since)
        .executeTakeFirstOrThrow();
      return Number(row.count);
    },
    rider,
    setAnswersStopped: (riderId, at) => putRider(riderId, { answers_stopped_at_ms: at }),
    setFoundStopped: (riderId, at) => putRider(riderId, { found_stopped_at_ms: at }),
    revoke: async (riderId) => putRider(riderId, { epoch: (await rider(riderId)).epoch + 1 }),
    forget: async (riderId) => {
      for (const table of ['mailed', 'mailed_rider'] as const)
        await db
          .deleteFrom(table)
          .where('workshop_id', '=', workshopId)
          .where('rider_id', '=', riderId)
          .execute();
    },
  };
}
