import type { Kysely } from 'kysely';

/** A ride holds its hours before any bounds; which way of deriving the derived rows are from stands with the workshop. */
export async function up(db: Kysely<unknown>): Promise<void> {
  await db.schema.alterTable('ride').renameColumn('terrain_ms', 'ground_ms').execute();
  await db.schema
    .alterTable('workshop')
    .addColumn('derived', 'integer', (c) => c.notNull().defaultTo(0))
    .execute();
}
