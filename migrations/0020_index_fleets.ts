import { type Kysely, PostgresAdapter, sql } from 'kysely';
import { weighIndexes } from './weighIndexes.js';

/** Bikes of fleets are few among all bikes: `store/facts.ts` asks for them in these very words. */
export async function up(db: Kysely<unknown>): Promise<void> {
  await sql`create index fact_of_fleet on fact (workshop_id, kind, entity_id)
    where body like '%"fleetId":"%'`.execute(db);
  if (!(db.getExecutor().adapter instanceof PostgresAdapter)) await weighIndexes(db);
}
