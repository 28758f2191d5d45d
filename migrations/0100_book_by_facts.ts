import { randomBytes } from 'node:crypto';
import { type Kysely, PostgresAdapter, sql } from 'kysely';
import { weighIndexes } from './weighIndexes.js';

/** So many are read at a time. */
const ROWS_AT_ONCE = 200;

interface Old {
  readonly workshop_id: string;
  readonly id: string;
  readonly unit_id: string;
  readonly rider_id: string | null;
  readonly service_kind: string;
  readonly wanted_kind: string;
  readonly beside: string;
  readonly period_id: string;
  readonly period_start: string | null;
  readonly state: string;
  readonly day: string | null;
  readonly bench_minutes: number;
  readonly made_at_ms: number;
  readonly changed_at_ms: number;
  readonly changed_by: string;
  readonly calendar_uid: string;
  readonly calendar_sequence: number;
}

/** The columns that stay, in order. */
const KEPT = `workshop_id, id, unit_id, rider_id, service_kind, wanted_kind, period_id, period_start, state, day,
  bench_minutes, made_at_ms, changed_at_ms, changed_by, calendar_uid, calendar_sequence, beside`;

/**
 * Bookings are facts. Each lead that ever had a day, or was declined or done, becomes the first step of a booking of one
 * unit; days of one bike that were booked apart stay apart, for their calendar entries went out so.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  const isServer = db.getExecutor().adapter instanceof PostgresAdapter;
  const text = isServer ? sql`text collate "C"` : 'text';
  await db.schema
    .createTable('lead_by_unit')
    .addColumn('workshop_id', text, (c) => c.notNull().references('workshop.id'))
    .addColumn('id', text, (c) => c.notNull())
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
    .addColumn('calendar_sequence', 'integer', (c) => c.notNull())
    .addColumn('beside', text, (c) => c.notNull())
    .addColumn('fact_id', text)
    .addColumn('step', text)
    .addColumn('bike_id', text)
    .addColumn('offered', text, (c) => c.notNull().defaultTo('[]'))
    .addColumn('wish', text)
    .addPrimaryKeyConstraint('lead_by_unit_pk', ['id', 'unit_id'])
    .execute();
  await sql`insert into lead_by_unit (${sql.raw(KEPT)}) select ${sql.raw(KEPT)} from lead`.execute(db);
  await db.schema.dropTable('lead').execute();
  await db.schema.alterTable('lead_by_unit').renameTo('lead').execute();
  await db.schema
    .createIndex('lead_once')
    .unique()
    .on('lead')
    .columns(['workshop_id', 'unit_id'])
    .where(sql<boolean>`state in ('open', 'asked-for', 'booked')`)
    .execute();
  await db.schema
    .createIndex('lead_by_state_day')
    .on('lead')
    .columns(['workshop_id', 'state', 'day'])
    .execute();
  await db.schema.createIndex('lead_by_unit_id').on('lead').columns(['workshop_id', 'unit_id']).execute();
  let after = '';
  for (;;) {
    const { rows } = await sql<Old>`select * from lead where state <> 'open' and id > ${after}
      order by id limit ${ROWS_AT_ONCE}`.execute(db);
    for (const row of rows) await toFact(db, row);
    if (rows.length < ROWS_AT_ONCE) break;
    after = rows.at(-1)!.id;
  }
  if (!isServer) await weighIndexes(db);
}

/** A job that was declined with its day may be wanted on another. */
const stepOf = ({ state, day }: Old): string => (state === 'declined' && day === null ? 'not-wanted' : state);

async function toFact(db: Kysely<unknown>, row: Old): Promise<void> {
  const beside = JSON.parse(row.beside) as readonly string[];
  const body = {
    step: stepOf(row),
    day: row.day,
    bikeId: null,
    riderId: row.rider_id,
    units: [
      {
        unitId: row.unit_id,
        serviceKind: row.service_kind,
        wanted: row.wanted_kind,
        ...(beside.length > 0 ? { beside } : {}),
        periodId: row.period_id,
        periodStart: row.period_start,
        benchMinutes: row.bench_minutes,
      },
    ],
    calendar: { uid: row.calendar_uid, sequence: Number(row.calendar_sequence) },
  };
  const id = newId();
  await sql`insert into fact (workshop_id, id, entity_id, kind, subject_id, object_id, body, is_void, recorded_at_ms,
      since_ms, recorded_by)
    values (${row.workshop_id}, ${id}, ${row.id}, 'booking', ${row.unit_id}, ${null}, ${JSON.stringify(body)}, 0,
      ${Number(row.changed_at_ms)}, ${Number(row.made_at_ms)}, ${row.changed_by})`.execute(db);
  await sql`update lead set fact_id = ${id}, step = ${body.step} where id = ${row.id}`.execute(db);
}

/** As the ids of all facts are made. */
function newId(): string {
  const alphabet = '23456789abcdefghjkmnpqrstuvwxyz0';
  return [...randomBytes(12)].map((byte) => alphabet[byte & 31]).join('');
}
