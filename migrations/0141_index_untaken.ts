import { type Kysely, PostgresAdapter, sql } from 'kysely';
import { weighIndexes } from './weighIndexes.js';

/** Since when a file of the drop folder waits is asked every half minute; most files there were taken. */
export async function up(db: Kysely<unknown>): Promise<void> {
  await db.schema
    .createIndex('inbox_untaken')
    .on('inbox_file')
    .columns(['workshop_id', 'home', 'seen_at_ms', 'code'])
    .where(sql.ref('settled'), '=', sql.lit(0))
    .execute();
  if (!(db.getExecutor().adapter instanceof PostgresAdapter)) await weighIndexes(db);
}
