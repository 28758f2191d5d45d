import { type Kysely, PostgresAdapter } from 'kysely';
import { weighIndexes } from './weighIndexes.js';

/** Whom to call is asked of the units of which there is something to tell, and of no other. */
export async function up(db: Kysely<unknown>): Promise<void> {
  await db.schema
    .createIndex('notice_by_unit')
    .on('notice')
    .columns(['workshop_id', 'unit_id', 'decided_at_ms', 'id'])
    .execute();
  if (!(db.getExecutor().adapter instanceof PostgresAdapter)) await weighIndexes(db);
}
