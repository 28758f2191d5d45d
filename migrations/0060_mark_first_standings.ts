import { type Kysely, PostgresAdapter, sql } from 'kysely';
import { weighIndexes } from './weighIndexes.js';

/** A list of what is due has a row a unit: of its standings the one that comes first. */
export async function up(db: Kysely<unknown>): Promise<void> {
  const isServer = db.getExecutor().adapter instanceof PostgresAdapter;
  await db.schema
    .alterTable('standing')
    .addColumn('is_first', 'integer', (column) => column.notNull().defaultTo(0))
    .execute();
  await sql`update standing set is_first = 1 where not exists (
    select 1 from standing as other where other.unit_id = standing.unit_id
      and (other.rank, other.likely_p50, other.hours_left, other.service_kind)
        < (standing.rank, standing.likely_p50, standing.hours_left, standing.service_kind))`.execute(db);
  await db.schema.dropIndex('standing_in_order').execute();
  await db.schema
    .createIndex('standing_first_in_order')
    .on('standing')
    .columns(['workshop_id', 'is_first', 'rank', 'likely_p50', 'hours_left', 'tag', 'state'])
    .execute();
  await db.schema
    .createIndex('standing_first_by_state')
    .on('standing')
    .columns(['workshop_id', 'is_first', 'state', 'as_of_ms'])
    .execute();
  if (!isServer) await weighIndexes(db);
}
