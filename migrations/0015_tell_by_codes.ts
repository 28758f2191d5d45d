import { type Kysely, PostgresAdapter, sql } from 'kysely';

/** What became of a path in the drop folder is kept as codes and counts, so that it can be told in any language. */
export async function up(db: Kysely<unknown>): Promise<void> {
  const isServer = db.getExecutor().adapter instanceof PostgresAdapter;
  await db.schema
    .alterTable('inbox_file')
    .addColumn('said', isServer ? sql`text collate "C"` : 'text')
    .execute();
}
