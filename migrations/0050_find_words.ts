import { type Kysely, PostgresAdapter, sql } from 'kysely';
import { weighIndexes } from './weighIndexes.js';

/** Whom and what people look for, by parts of words; and what the workshop notes of a rider, to be forgotten with them. */
export async function up(db: Kysely<unknown>): Promise<void> {
  const isServer = db.getExecutor().adapter instanceof PostgresAdapter;
  const text = isServer ? sql`text collate "C"` : 'text';
  await db.schema.alterTable('contact').addColumn('note', 'text').execute();
  await db.schema
    .createTable('find_word')
    .addColumn('workshop_id', text, (c) => c.notNull().references('workshop.id'))
    .addColumn('kind', text, (c) => c.notNull())
    .addColumn('entity_id', text, (c) => c.notNull())
    .addColumn('word', text, (c) => c.notNull())
    .addPrimaryKeyConstraint('find_word_pk', ['workshop_id', 'word', 'entity_id'])
    .$call((table) => (isServer ? table : table.modifyEnd(sql`without rowid`)))
    .execute();
  await db.schema
    .createIndex('find_word_by_entity_id')
    .on('find_word')
    .columns(['workshop_id', 'entity_id', 'word'])
    .execute();
  if (!isServer) await weighIndexes(db);
}
