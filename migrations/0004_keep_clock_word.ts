import type { Kysely } from 'kysely';

/** When the machine's clock was last believed, and since when it is doubted. */
export async function up(db: Kysely<unknown>): Promise<void> {
  await db.schema
    .createTable('clock_word')
    .addColumn('workshop_id', 'text', (c) => c.notNull().primaryKey().references('workshop.id'))
    .addColumn('last_at_ms', 'bigint', (c) => c.notNull())
    .addColumn('doubted_since_ms', 'bigint')
    .addColumn('doubt_seen_at_ms', 'bigint')
    .addColumn('doubt_ran_ms', 'bigint')
    .execute();
}
