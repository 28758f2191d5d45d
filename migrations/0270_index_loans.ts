import { type Kysely, PostgresAdapter, sql } from 'kysely';
import { weighIndexes } from './weighIndexes.js';

/** Units on loan are few among all fittings: `store/facts.ts` asks for them in these very words. */
export async function up(db: Kysely<unknown>): Promise<void> {
  await sql`create index fact_of_loan on fact (workshop_id, kind, entity_id)
    where body like '%"loanUntil":"%'`.execute(db);
  if (!(db.getExecutor().adapter instanceof PostgresAdapter)) await weighIndexes(db);
}
