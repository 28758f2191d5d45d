import { type Kysely, PostgresAdapter, sql } from 'kysely';
import { weighIndexes } from './weighIndexes.js';

/** Which profile was chosen on the recorder, beside whose recording it is: filled when the readings are settled anew. */
export async function up(db: Kysely<unknown>): Promise<void> {
  const isServer = db.getExecutor().adapter instanceof PostgresAdapter;
  const text = isServer ? sql`text collate "C"` : 'text';
  await db.schema.alterTable('ride_reading').addColumn('profile', text).execute();
  await db.schema
    .createIndex('ride_reading_by_profile')
    .on('ride_reading')
    .columns(['workshop_id', 'rider_id', 'profile'])
    .execute();
  if (!isServer) await weighIndexes(db);
}
