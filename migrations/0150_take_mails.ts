import { type Kysely, PostgresAdapter, sql } from 'kysely';
import { weighIndexes } from './weighIndexes.js';

/** Rides that come by mail: how far the mailbox was read, what each mail held, and what a rider said of the answers. */
export async function up(db: Kysely<unknown>): Promise<void> {
  const isServer = db.getExecutor().adapter instanceof PostgresAdapter;
  const text = isServer ? sql`text collate "C"` : 'text';
  await db.schema
    .createTable('mailbox')
    .addColumn('workshop_id', text, (c) => c.primaryKey().notNull().references('workshop.id'))
    .addColumn('validity', text, (c) => c.notNull())
    .addColumn('last_uid', 'bigint', (c) => c.notNull())
    .addColumn('left_mails', 'integer', (c) => c.notNull())
    .execute();
  await db.schema
    .createTable('mailed')
    .addColumn('workshop_id', text, (c) => c.notNull().references('workshop.id'))
    .addColumn('id', text, (c) => c.primaryKey().notNull())
    .addColumn('rider_id', text, (c) => c.notNull())
    .addColumn('key', text, (c) => c.notNull())
    .addColumn('opened_at_ms', 'bigint', (c) => c.notNull())
    .addColumn('done_at_ms', 'bigint')
    .addColumn('files', 'text', (c) => c.notNull())
    .addColumn('answer', text)
    .addUniqueConstraint('mailed_key', ['workshop_id', 'key'])
    .execute();
  await db.schema
    .createIndex('mailed_by_rider')
    .on('mailed')
    .columns(['workshop_id', 'rider_id', 'opened_at_ms'])
    .execute();
  await db.schema.createIndex('mailed_by_answer').on('mailed').columns(['workshop_id', 'answer']).execute();
  await db.schema
    .createTable('mailed_rider')
    .addColumn('workshop_id', text, (c) => c.notNull().references('workshop.id'))
    .addColumn('rider_id', text, (c) => c.notNull())
    .addColumn('epoch', 'integer', (c) => c.notNull())
    .addColumn('answers_stopped_at_ms', 'bigint')
    .addPrimaryKeyConstraint('mailed_rider_pk', ['workshop_id', 'rider_id'])
    .execute();
  if (!isServer) await weighIndexes(db);
}
