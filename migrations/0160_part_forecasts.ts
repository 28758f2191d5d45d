import { type Kysely, PostgresAdapter, sql } from 'kysely';

/** What a standing is foretold from stands beside it: lists show standings alone, and it was half of what they read. */
export async function up(db: Kysely<unknown>): Promise<void> {
  const isServer = db.getExecutor().adapter instanceof PostgresAdapter;
  await db.schema
    .alterTable('standing')
    .addColumn('forecast', 'text', (c) => c.notNull().defaultTo('{}'))
    .execute();
  await (isServer
    ? sql`update standing set forecast = coalesce(body::jsonb ->> 'forecast', '{}'), body = (body::jsonb - 'forecast')::text`
    : sql`update standing set forecast = coalesce(json_extract(body, '$.forecast'), '{}'), body = json_remove(body, '$.forecast')`
  ).execute(db);
}
