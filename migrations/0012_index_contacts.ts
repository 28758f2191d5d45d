import { type Kysely, PostgresAdapter } from 'kysely';
import { weighIndexes } from './weighIndexes.js';

/** Riders are listed by their names, a page of them. */
export async function up(db: Kysely<unknown>): Promise<void> {
  await db.schema
    .createIndex('contact_by_name')
    .on('contact')
    .columns(['workshop_id', 'name', 'rider_id'])
    .execute();
  if (!(db.getExecutor().adapter instanceof PostgresAdapter)) await weighIndexes(db);
}
