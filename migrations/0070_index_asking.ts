import { type Kysely, PostgresAdapter, sql } from 'kysely';
import { weighIndexes } from './weighIndexes.js';

/** The tray shows a part of what waits, in order, and the latest files that could not be used. */
export async function up(db: Kysely<unknown>): Promise<void> {
  const isServer = db.getExecutor().adapter instanceof PostgresAdapter;
  // A server needs to be told what comes first; in a file it does so always.
  const first = isServer ? sql` nulls first` : sql``;
  await sql`create index ride_asking_in_order on ride (workshop_id, started_at_ms${first}, id)
    where question is not null`.execute(db);
  await sql`create index inbox_file_set_aside on inbox_file (workshop_id, home, seen_at_ms)
    where outcome = 'set-aside'`.execute(db);
  if (!isServer) await weighIndexes(db);
}
