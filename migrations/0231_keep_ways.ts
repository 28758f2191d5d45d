import { type Kysely, PostgresAdapter, sql } from 'kysely';

/** By which way a file came; of those from before it is not known. */
export async function up(db: Kysely<unknown>): Promise<void> {
  const isServer = db.getExecutor().adapter instanceof PostgresAdapter;
  const text = isServer ? sql`text collate "C"` : 'text';
  await db.schema.alterTable('arrival').addColumn('way', text).execute();
}
