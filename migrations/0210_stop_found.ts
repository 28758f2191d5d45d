import type { Kysely } from 'kysely';

/** That a rider wants no mails on what was found, beside the other word on answers. */
export async function up(db: Kysely<unknown>): Promise<void> {
  await db.schema.alterTable('mailed_rider').addColumn('found_stopped_at_ms', 'bigint').execute();
}
