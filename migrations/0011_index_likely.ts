import { type Kysely, PostgresAdapter, sql } from 'kysely';
import { weighIndexes } from './weighIndexes.js';

/** What is likely in a week is looked up by its days, and whom no mail reaches by that, however many there are. */
export async function up(db: Kysely<unknown>): Promise<void> {
  await db.schema
    .createIndex('standing_by_likely')
    .on('standing')
    .columns(['workshop_id', 'likely_p50', 'unit_id'])
    .execute();
  await db.schema
    .createIndex('contact_refused')
    .on('contact')
    .columns(['workshop_id', 'name'])
    .where(sql.ref('refused_at_ms'), 'is not', null)
    .execute();
  if (!(db.getExecutor().adapter instanceof PostgresAdapter)) await weighIndexes(db);
}
