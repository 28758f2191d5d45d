import { type Kysely, PostgresAdapter, sql } from 'kysely';
import { weighIndexes } from './weighIndexes.js';

/** Which recorder wrote a recording and whose a person said that it is: filled when the readings are settled anew. */
export async function up(db: Kysely<unknown>): Promise<void> {
  const isServer = db.getExecutor().adapter instanceof PostgresAdapter;
  const text = isServer ? sql`text collate "C"` : 'text';
  await db.schema.alterTable('ride_reading').addColumn('recorder', text).execute();
  await db.schema.alterTable('ride_reading').addColumn('named_rider_id', text).execute();
  await db.schema
    .createIndex('ride_reading_by_recorder')
    .on('ride_reading')
    .columns(['workshop_id', 'recorder', 'named_rider_id', 'started_at_ms'])
    .execute();
  if (!isServer) await weighIndexes(db);
}
