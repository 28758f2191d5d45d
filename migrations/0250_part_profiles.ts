import { type Kysely, PostgresAdapter, sql } from 'kysely';

/** A profile is most of a reading and only shown: it lies beside what hours are made of. Those from before stay where they are. */
export async function up(db: Kysely<unknown>): Promise<void> {
  const isServer = db.getExecutor().adapter instanceof PostgresAdapter;
  const text = isServer ? sql`text collate "C"` : 'text';
  for (const table of ['reading', 'reading_again'])
    await db.schema.alterTable(table).addColumn('profile', text).execute();
  await sql
    .raw(`DROP TRIGGER ${isServer ? 'reading_no_change ON reading' : 'reading_no_update'}`)
    .execute(db);
  const columns = 'workshop_id, id, file_id, part, body, profile';
  await sql
    .raw(
      isServer
        ? `CREATE TRIGGER reading_no_change BEFORE UPDATE OF ${columns} OR DELETE OR TRUNCATE ON reading FOR EACH STATEMENT EXECUTE FUNCTION reading_is_append_only()`
        : `CREATE TRIGGER reading_no_update BEFORE UPDATE OF ${columns} ON reading BEGIN SELECT RAISE(ABORT, 'reading is append-only'); END`,
    )
    .execute(db);
}
