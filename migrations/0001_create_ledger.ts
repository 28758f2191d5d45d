import { type Kysely, PostgresAdapter, sql } from 'kysely';
import { weighIndexes } from './weighIndexes.js';

/** Facts and readings are append-only; what is derived from them may be thrown away and rebuilt. */
export async function up(db: Kysely<unknown>): Promise<void> {
  const isServer = db.getExecutor().adapter instanceof PostgresAdapter;
  // On a server order would depend on where it was set up.
  const text = isServer ? sql`text collate "C"` : 'text';

  await db.schema
    .createTable('workshop')
    .addColumn('id', text, (c) => c.notNull().primaryKey())
    .addColumn('slug', text, (c) => c.notNull().unique())
    .addColumn('created_at_ms', 'bigint', (c) => c.notNull())
    .addColumn('feed_epoch', 'integer', (c) => c.notNull().defaultTo(0))
    .execute();

  const table = (name: string) =>
    db.schema.createTable(name).addColumn('workshop_id', text, (c) => c.notNull().references('workshop.id'));

  await table('handle')
    .addColumn('kind', text, (c) => c.notNull())
    .addColumn('handle', text, (c) => c.notNull())
    .addColumn('entity_id', text, (c) => c.notNull())
    .addColumn('fact_seq', 'integer', (c) => c.notNull())
    .addPrimaryKeyConstraint('handle_pk', ['workshop_id', 'kind', 'handle'])
    .execute();
  await index(db, 'handle', ['workshop_id', 'kind', 'entity_id']);

  await table('contact')
    .addColumn('rider_id', text, (c) => c.notNull().primaryKey())
    .addColumn('name', text, (c) => c.notNull())
    .addColumn('email', text)
    .addColumn('address_id', text, (c) => c.notNull())
    .addColumn('phone', text)
    .addColumn('language', text, (c) => c.notNull())
    .addColumn('confirmed_at_ms', 'bigint')
    .addColumn('unsubscribed_at_ms', 'bigint')
    .addColumn('refused_at_ms', 'bigint')
    .addColumn('link_epoch', 'integer', (c) => c.notNull().defaultTo(0))
    .execute();

  await table('fact')
    .addColumn('seq', isServer ? 'bigint' : 'integer', (c) =>
      isServer ? c.primaryKey().generatedByDefaultAsIdentity() : c.primaryKey().autoIncrement(),
    )
    .addColumn('id', text, (c) => c.notNull().unique())
    .addColumn('entity_id', text, (c) => c.notNull())
    .addColumn('kind', text, (c) => c.notNull())
    .addColumn('subject_id', text, (c) => c.notNull())
    .addColumn('object_id', text)
    .addColumn('body', text, (c) => c.notNull())
    .addColumn('replaces_id', text, (c) => c.references('fact.id'))
    .addColumn('is_void', 'integer', (c) => c.notNull().defaultTo(0))
    .addColumn('recorded_at_ms', 'bigint', (c) => c.notNull())
    .addColumn('since_ms', 'bigint', (c) => c.notNull())
    .addColumn('recorded_by', text, (c) => c.notNull())
    .addColumn('why', text)
    .execute();
  // Few facts are replaced: an index that held all the others too would look useless to whoever plans a query.
  await db.schema
    .createIndex('fact_replaced_once')
    .unique()
    .on('fact')
    .column('replaces_id')
    .where(sql.ref('replaces_id'), 'is not', null)
    .execute();
  await index(db, 'fact', ['workshop_id', 'kind', 'subject_id']);
  await index(db, 'fact', ['workshop_id', 'kind', 'object_id']);
  await index(db, 'fact', ['workshop_id', 'entity_id']);
  await index(db, 'fact', ['workshop_id', 'subject_id']);
  await index(db, 'fact', ['workshop_id', 'seq']);

  await table('file')
    .addColumn('id', text, (c) => c.notNull().primaryKey())
    .addColumn('sha256', text, (c) => c.notNull())
    .addColumn('bytes', 'bigint', (c) => c.notNull())
    .addColumn('rider_id', text)
    .addColumn('outcome', text, (c) => c.notNull())
    .addColumn('code', text)
    .addColumn('reason', text)
    .execute();
  await index(db, 'file', ['workshop_id', 'sha256']);

  await table('arrival')
    .addColumn('id', text, (c) => c.notNull().primaryKey())
    .addColumn('file_id', text, (c) => c.notNull().references('file.id'))
    .addColumn('name', text, (c) => c.notNull())
    .addColumn('rider_id', text)
    .addColumn('bike_id', text)
    .addColumn('rule', text)
    .addColumn('arrived_at_ms', 'bigint', (c) => c.notNull())
    .addColumn('after_fact', 'integer', (c) => c.notNull())
    .execute();
  await index(db, 'arrival', ['workshop_id', 'file_id']);
  await index(db, 'arrival', ['workshop_id', 'arrived_at_ms']);

  await table('reading')
    .addColumn('id', text, (c) => c.notNull().primaryKey())
    .addColumn('file_id', text, (c) => c.notNull().references('file.id'))
    .addColumn('part', 'integer', (c) => c.notNull())
    .addColumn('body', text, (c) => c.notNull())
    .addUniqueConstraint('reading_part', ['file_id', 'part'])
    .execute();

  await table('reading_sensor')
    .addColumn('reading_id', text, (c) => c.notNull().references('reading.id'))
    .addColumn('sensor_id', text, (c) => c.notNull())
    .addPrimaryKeyConstraint('reading_sensor_pk', ['reading_id', 'sensor_id'])
    .execute();
  await index(db, 'reading_sensor', ['workshop_id', 'sensor_id']);

  await table('ride')
    .addColumn('id', text, (c) => c.notNull().primaryKey())
    .addColumn('source', text, (c) => c.notNull())
    .addColumn('rider_id', text)
    .addColumn('bike_id', text)
    .addColumn('started_at_ms', 'bigint')
    .addColumn('ended_at_ms', 'bigint')
    .addColumn('moving_s', 'integer', (c) => c.notNull())
    .addColumn('terrain_ms', 'bigint', (c) => c.notNull())
    .addColumn('counts', 'integer', (c) => c.notNull())
    .addColumn('question', text)
    .addColumn('body', text, (c) => c.notNull())
    .execute();
  await index(db, 'ride', ['workshop_id', 'bike_id', 'started_at_ms']);
  await index(db, 'ride', ['workshop_id', 'rider_id', 'started_at_ms']);
  await index(db, 'ride', ['workshop_id', 'question']);

  await table('ride_reading')
    .addColumn('reading_id', text, (c) => c.notNull().primaryKey())
    .addColumn('ride_id', text, (c) => c.notNull().references('ride.id').onDelete('cascade'))
    .addColumn('rider_id', text)
    .addColumn('bike_id', text)
    .addColumn('started_at_ms', 'bigint')
    .addColumn('ended_at_ms', 'bigint')
    .addColumn('named_bike_id', text)
    .execute();
  await index(db, 'ride_reading', ['ride_id']);
  await index(db, 'ride_reading', ['workshop_id', 'rider_id', 'started_at_ms']);
  await index(db, 'ride_reading', ['workshop_id', 'bike_id', 'started_at_ms']);

  await table('standing')
    .addColumn('unit_id', text, (c) => c.notNull())
    .addColumn('service_kind', text, (c) => c.notNull())
    .addColumn('state', text, (c) => c.notNull())
    .addColumn('rank', 'integer', (c) => c.notNull())
    .addColumn('likely_p50', text, (c) => c.notNull())
    .addColumn('hours_left', 'double precision', (c) => c.notNull())
    .addColumn('as_of_ms', 'bigint', (c) => c.notNull())
    .addColumn('stale', 'integer', (c) => c.notNull())
    .addColumn('body', text, (c) => c.notNull())
    .addPrimaryKeyConstraint('standing_pk', ['unit_id', 'service_kind'])
    .execute();
  await index(db, 'standing', ['workshop_id', 'stale', 'as_of_ms']);
  await index(db, 'standing', ['workshop_id', 'state', 'as_of_ms']);
  await index(db, 'standing', ['workshop_id', 'rank', 'likely_p50', 'hours_left']);

  await table('mail')
    .addColumn('id', text, (c) => c.notNull().primaryKey())
    .addColumn('message_id', text, (c) => c.notNull().unique())
    .addColumn('kind', text, (c) => c.notNull())
    .addColumn('recipient', text, (c) => c.notNull())
    .addColumn('day', text, (c) => c.notNull())
    .addColumn('cause', text, (c) => c.notNull())
    .addColumn('send_at_ms', 'bigint', (c) => c.notNull())
    .addColumn('state', text, (c) => c.notNull())
    .addColumn('queued_at_ms', 'bigint', (c) => c.notNull())
    .addColumn('tries', 'integer', (c) => c.notNull())
    .addColumn('next_try_at_ms', 'bigint', (c) => c.notNull())
    .addColumn('settled_at_ms', 'bigint')
    .addColumn('written', text)
    .addColumn('told', 'integer')
    .addColumn('answer', text)
    .addColumn('claimed_by', text)
    .addColumn('claimed_until_ms', 'bigint')
    .execute();
  await index(db, 'mail', ['workshop_id', 'state', 'next_try_at_ms']);

  await table('notice')
    .addColumn('id', text, (c) => c.notNull().primaryKey())
    .addColumn('key', text, (c) => c.notNull())
    .addColumn('recipient', text, (c) => c.notNull())
    .addColumn('unit_id', text)
    .addColumn('service_kind', text)
    .addColumn('period_id', text)
    .addColumn('state', text)
    .addColumn('occasion', text, (c) => c.notNull())
    .addColumn('cause', text, (c) => c.notNull())
    .addColumn('mail_id', text, (c) => c.notNull().references('mail.id'))
    .addColumn('decided_at_ms', 'bigint', (c) => c.notNull())
    .addColumn('withdrawn_at_ms', 'bigint')
    .addColumn('lapsed_at_ms', 'bigint')
    .addColumn('keeps_place', 'integer', (c) => c.notNull())
    .execute();
  await db.schema
    .createIndex('notice_once')
    .unique()
    .on('notice')
    .columns(['workshop_id', 'key'])
    .where(sql.ref('keeps_place'), '=', sql.lit(1))
    .execute();
  await index(db, 'notice', ['mail_id']);

  await table('lead')
    .addColumn('id', text, (c) => c.notNull().primaryKey())
    .addColumn('unit_id', text, (c) => c.notNull())
    .addColumn('rider_id', text)
    .addColumn('service_kind', text, (c) => c.notNull())
    .addColumn('wanted_kind', text, (c) => c.notNull())
    .addColumn('period_id', text, (c) => c.notNull())
    .addColumn('period_start', text)
    .addColumn('state', text, (c) => c.notNull())
    .addColumn('day', text)
    .addColumn('bench_minutes', 'integer', (c) => c.notNull())
    .addColumn('made_at_ms', 'bigint', (c) => c.notNull())
    .addColumn('changed_at_ms', 'bigint', (c) => c.notNull())
    .addColumn('changed_by', text, (c) => c.notNull())
    .addColumn('calendar_uid', text, (c) => c.notNull())
    .addColumn('calendar_sequence', 'integer', (c) => c.notNull().defaultTo(0))
    .execute();
  await db.schema
    .createIndex('lead_once')
    .unique()
    .on('lead')
    .columns(['workshop_id', 'unit_id'])
    .where(sql<boolean>`state in ('open', 'asked-for', 'booked')`)
    .execute();
  await index(db, 'lead', ['workshop_id', 'state', 'day']);

  await table('later')
    .addColumn('unit_id', text, (c) => c.notNull())
    .addColumn('rider_id', text, (c) => c.notNull())
    .addColumn('said_at_ms', 'bigint', (c) => c.notNull())
    .addColumn('until', text, (c) => c.notNull())
    .addPrimaryKeyConstraint('later_pk', ['workshop_id', 'unit_id'])
    .execute();

  await table('account')
    .addColumn('id', text, (c) => c.notNull().primaryKey())
    .addColumn('name', text, (c) => c.notNull())
    .addColumn('password_hash', text, (c) => c.notNull())
    .addColumn('role', text, (c) => c.notNull())
    .addColumn('fleet_id', text)
    .addUniqueConstraint('account_name', ['workshop_id', 'name'])
    .execute();

  await table('session')
    .addColumn('token_hash', text, (c) => c.notNull().primaryKey())
    .addColumn('account_id', text, (c) => c.notNull().references('account.id'))
    .addColumn('created_at_ms', 'bigint', (c) => c.notNull())
    .addColumn('used_at_ms', 'bigint', (c) => c.notNull())
    .addColumn('expires_at_ms', 'bigint', (c) => c.notNull())
    .execute();

  await table('inbox_file')
    .addColumn('home', text, (c) => c.notNull())
    .addColumn('path', text, (c) => c.notNull())
    .addColumn('bytes', 'bigint', (c) => c.notNull())
    .addColumn('modified_ms', 'bigint', (c) => c.notNull())
    .addColumn('stamp', text, (c) => c.notNull())
    .addColumn('seen_at_ms', 'bigint', (c) => c.notNull())
    .addColumn('settled', 'integer', (c) => c.notNull())
    .addColumn('outcome', text)
    .addColumn('code', text)
    .addColumn('reason', text)
    .addPrimaryKeyConstraint('inbox_file_pk', ['workshop_id', 'home', 'path'])
    .execute();

  await table('heartbeat')
    .addColumn('worker', text, (c) => c.notNull())
    .addColumn('home', text, (c) => c.notNull())
    .addColumn('loops', text, (c) => c.notNull())
    .addColumn('beat_at_ms', 'bigint', (c) => c.notNull())
    .addPrimaryKeyConstraint('heartbeat_pk', ['workshop_id', 'worker'])
    .execute();

  for (const name of ['fact', 'reading', 'reading_sensor'])
    for (const text of isServer ? guardsOnServer(name) : guardsInFile(name)) await sql.raw(text).execute(db);
  if (!isServer) await weighIndexes(db);
}

/** An append-only table refuses every change of its rows. */
const guardsInFile = (name: string): string[] =>
  ['UPDATE', 'DELETE'].map(
    (change) =>
      `CREATE TRIGGER ${name}_no_${change.toLowerCase()} BEFORE ${change} ON ${name} BEGIN SELECT RAISE(ABORT, '${name} is append-only'); END`,
  );

const guardsOnServer = (name: string): string[] => [
  `CREATE FUNCTION ${name}_is_append_only() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN RAISE EXCEPTION '${name} is append-only'; END $$`,
  `CREATE TRIGGER ${name}_no_change BEFORE UPDATE OR DELETE OR TRUNCATE ON ${name} FOR EACH STATEMENT EXECUTE FUNCTION ${name}_is_append_only()`,
];

const index = (db: Kysely<unknown>, table: string, columns: string[]): Promise<void> =>
  db.schema
    .createIndex(`${table}_by_${columns.filter((c) => c !== 'workshop_id').join('_')}`)
    .on(table)
    .columns(columns)
    .execute();
