import { type Kysely, PostgresAdapter, sql } from 'kysely';
import { weighIndexes } from './weighIndexes.js';

/** What waits in the tray is few among all rides, and what is due has an order of its own, down to the tag. */
export async function up(db: Kysely<unknown>): Promise<void> {
  const isServer = db.getExecutor().adapter instanceof PostgresAdapter;
  await db.schema
    .alterTable('standing')
    .addColumn('tag', isServer ? sql`text collate "C"` : 'text', (c) => c.notNull().defaultTo(''))
    .execute();
  await sql`update standing set tag = coalesce((select handle from handle
    where handle.workshop_id = standing.workshop_id and handle.kind = 'unit' and handle.entity_id = standing.unit_id
    order by fact_seq desc limit 1), '')`.execute(db);
  await db.schema.dropIndex('standing_by_rank_likely_p50_hours_left').execute();
  await db.schema
    .createIndex('standing_in_order')
    .on('standing')
    .columns(['workshop_id', 'rank', 'likely_p50', 'hours_left', 'tag', 'service_kind', 'state'])
    .execute();
  await db.schema
    .createIndex('standing_by_tag')
    .on('standing')
    .columns(['workshop_id', 'tag', 'unit_id'])
    .execute();
  await db.schema.dropIndex('ride_by_question').execute();
  for (const [name, columns] of [
    ['ride_asking_of_rider', ['workshop_id', 'rider_id', 'bike_id']],
    ['ride_asking_of_bike', ['workshop_id', 'bike_id']],
  ] as const)
    await db.schema
      .createIndex(name)
      .on('ride')
      .columns([...columns])
      .where(sql.ref('question'), 'is not', null)
      .execute();
  await db.schema.createIndex('lead_by_unit_id').on('lead').columns(['workshop_id', 'unit_id']).execute();
  if (!isServer) await weighIndexes(db);
}
