import { type Kysely, PostgresAdapter, sql } from 'kysely';
import { weighIndexes } from './weighIndexes.js';

/** Files that are kept are read again when the reader changes: each reading keeps what it was, and what it is now. */
export async function up(db: Kysely<unknown>): Promise<void> {
  const isServer = db.getExecutor().adapter instanceof PostgresAdapter;
  const text = isServer ? sql`text collate "C"` : 'text';
  // By which reader a file was looked at last is all that may change of a reading.
  await sql
    .raw(`DROP TRIGGER ${isServer ? 'reading_no_change ON reading' : 'reading_no_update'}`)
    .execute(db);
  const columns = 'workshop_id, id, file_id, part, body';
  await sql
    .raw(
      isServer
        ? `CREATE TRIGGER reading_no_change BEFORE UPDATE OF ${columns} OR DELETE OR TRUNCATE ON reading FOR EACH STATEMENT EXECUTE FUNCTION reading_is_append_only()`
        : `CREATE TRIGGER reading_no_update BEFORE UPDATE OF ${columns} ON reading BEGIN SELECT RAISE(ABORT, 'reading is append-only'); END`,
    )
    .execute(db);
  await db.schema
    .alterTable('reading')
    .addColumn('reader_version', 'integer', (c) => c.notNull().defaultTo(1))
    .execute();
  await db.schema
    .createIndex('reading_by_reader')
    .on('reading')
    .columns(['workshop_id', 'reader_version', 'file_id'])
    .execute();
  const table = (name: string) =>
    db.schema.createTable(name).addColumn('workshop_id', text, (c) => c.notNull().references('workshop.id'));
  await table('reading_again')
    .addColumn('reading_id', text, (c) => c.notNull().references('reading.id'))
    .addColumn('nth', 'integer', (c) => c.notNull())
    .addColumn('reader_version', 'integer', (c) => c.notNull())
    .addColumn('read_at_ms', 'bigint', (c) => c.notNull())
    .addColumn('outcome', text, (c) => c.notNull())
    .addColumn('body', text)
    .addPrimaryKeyConstraint('reading_again_pk', ['reading_id', 'nth'])
    .execute();
  // What the reading under way has changed so far, until it ends and is one fact.
  await table('reread_change')
    .addColumn('unit_id', text, (c) => c.notNull())
    .addColumn('service_kind', text, (c) => c.notNull())
    .addColumn('moving_s', 'bigint', (c) => c.notNull())
    .addColumn('terrain_ms', 'bigint', (c) => c.notNull())
    .addColumn('moving_s_more', 'bigint', (c) => c.notNull())
    .addColumn('terrain_ms_more', 'bigint', (c) => c.notNull())
    .addPrimaryKeyConstraint('reread_change_pk', ['workshop_id', 'unit_id', 'service_kind'])
    .execute();
  for (const column of ['reread_files', 'reread_lost', 'reread_kept'])
    await db.schema
      .alterTable('workshop')
      .addColumn(column, 'integer', (c) => c.notNull().defaultTo(0))
      .execute();
  if (!isServer) await weighIndexes(db);
}
