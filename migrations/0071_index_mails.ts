import { type Kysely, PostgresAdapter, sql } from 'kysely';
import { weighIndexes } from './weighIndexes.js';

/** The list of mails shows the latest of each state, and of a mail the first that it tells of. */
export async function up(db: Kysely<unknown>): Promise<void> {
  await sql`drop index mail_by_state_next_try_at_ms`.execute(db);
  await sql`create index mail_by_next_try on mail (workshop_id, state, next_try_at_ms, id)`.execute(db);
  await sql`create index mail_by_settled on mail
    (workshop_id, state, (coalesce(settled_at_ms, queued_at_ms)) desc, id)`.execute(db);
  await sql`drop index notice_by_mail_id`.execute(db);
  await sql`create index notice_by_mail on notice (mail_id, withdrawn_at_ms, decided_at_ms, id)`.execute(db);
  if (!(db.getExecutor().adapter instanceof PostgresAdapter)) await weighIndexes(db);
}
