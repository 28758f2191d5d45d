import { type Kysely, PostgresAdapter, sql } from 'kysely';

/** Jobs of one unit that are done on the same visit, beside the one that a lead is for. Shape: a list as JSON. */
export async function up(db: Kysely<unknown>): Promise<void> {
  const isServer = db.getExecutor().adapter instanceof PostgresAdapter;
  const text = isServer ? sql`text collate "C"` : 'text';
  await db.schema
    .alterTable('lead')
    .addColumn('beside', text, (c) => c.notNull().defaultTo('[]'))
    .execute();
}
