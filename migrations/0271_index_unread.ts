import { type Kysely, PostgresAdapter, sql } from 'kysely';
import { weighIndexes } from './weighIndexes.js';

/** Mails that could not be read are few among all: `store/mailed.ts` asks for them in these very words. */
export async function up(db: Kysely<unknown>): Promise<void> {
  await sql`create index mailed_unread on mailed (workshop_id, opened_at_ms)
    where files like '%"code":"mail-left"%'`.execute(db);
  if (!(db.getExecutor().adapter instanceof PostgresAdapter)) await weighIndexes(db);
}
