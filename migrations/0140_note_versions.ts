import type { Kysely } from 'kysely';

/** Which version of the program has written to the store, and since when. */
export async function up(db: Kysely<unknown>): Promise<void> {
  await db.schema
    .createTable('program_version')
    .addColumn('workshop_id', 'text', (c) => c.notNull().references('workshop.id'))
    .addColumn('since_ms', 'bigint', (c) => c.notNull())
    .addColumn('version', 'text', (c) => c.notNull())
    .addPrimaryKeyConstraint('program_version_pk', ['workshop_id', 'since_ms'])
    .execute();
}
