import { type Kysely, PostgresAdapter, sql } from 'kysely';
import { weighIndexes } from './weighIndexes.js';

/** Where recordings were, under a key of the store's own: apart from the readings, because the marks have to go one day. */
export async function up(db: Kysely<unknown>): Promise<void> {
  const isServer = db.getExecutor().adapter instanceof PostgresAdapter;
  const text = isServer ? sql`text collate "C"` : 'text';
  await db.schema.alterTable('workshop').addColumn('place_key', text).execute();
  await db.schema
    .createTable('reading_mark')
    .addColumn('workshop_id', text, (c) => c.notNull().references('workshop.id'))
    .addColumn('reading_id', text, (c) => c.notNull().primaryKey().references('reading.id'))
    .addColumn('key_id', text, (c) => c.notNull())
    .addColumn('recorder', text)
    .addColumn('from_minute', 'integer', (c) => c.notNull())
    .addColumn('cells', text, (c) => c.notNull())
    .execute();
  await db.schema
    .createIndex('reading_mark_by_recorder')
    .on('reading_mark')
    .columns(['workshop_id', 'recorder'])
    .execute();
  if (!isServer) await weighIndexes(db);
}
