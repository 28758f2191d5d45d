import { randomUUID } from 'node:crypto';
import type { Selectable } from 'kysely';
import type { Later } from '../core/plan/leads.js';
import type { LeadRow, LeadTable } from '../ports/leads.js';
import { type Day, day, instant } from '../units.js';
import { newId, type Scope } from './scope.js';
import type { Tables } from './tables.js';

const dayOrNull = (text: string | null): Day | null => (text === null ? null : day(text));

const leadOf = (row: Selectable<Tables['lead']>): LeadRow => ({
  id: row.id,
  unitId: row.unit_id,
  riderId: row.rider_id,
  serviceKind: row.service_kind,
  wanted: row.wanted_kind,
  beside: JSON.parse(row.beside) as readonly string[],
  periodId: row.period_id,
  periodStart: dayOrNull(row.period_start),
  state: row.state as LeadRow['state'],
  day: dayOrNull(row.day),
  benchMinutes: row.bench_minutes,
  madeAt: instant(row.made_at_ms),
  changedAt: instant(row.changed_at_ms),
  changedBy: row.changed_by,
  calendarUid: row.calendar_uid,
  calendarSequence: row.calendar_sequence,
});

/** The column of each field that can change. */
const COLUMNS = {
  riderId: 'rider_id',
  serviceKind: 'service_kind',
  wanted: 'wanted_kind',
  periodId: 'period_id',
  periodStart: 'period_start',
  state: 'state',
  day: 'day',
  benchMinutes: 'bench_minutes',
  changedAt: 'changed_at_ms',
  changedBy: 'changed_by',
  calendarSequence: 'calendar_sequence',
  beside: 'beside',
} as const satisfies Partial<Record<keyof LeadRow, keyof Tables['lead']>>;

type LeadChange = Parameters<LeadTable['update']>[1];

const columnsOf = (change: LeadChange): Partial<Tables['lead']> =>
  Object.fromEntries(
    (Object.keys(COLUMNS) as (keyof typeof COLUMNS)[])
      .filter((key) => change[key] !== undefined)
      .map((key) => [COLUMNS[key], key === 'beside' ? JSON.stringify(change.beside) : change[key]]),
  );

export function leadTable({ db, workshopId }: Scope): LeadTable {
  const all = () =>
    db
      .selectFrom('lead')
      .selectAll()
      .where('workshop_id', '=', workshopId)
      .orderBy('made_at_ms')
      .orderBy('id');
  const later = () => db.selectFrom('later').selectAll().where('workshop_id', '=', workshopId);
  const laterOf = (row: Selectable<Tables['later']>): Later => ({
    unitId: row.unit_id,
    riderId: row.rider_id,
    at: instant(row.said_at_ms),
    until: day(row.until),
  });
  return {
    list: async (states) => {
      const rows = states === undefined ? all() : all().where('state', 'in', [...states]);
      return (await rows.execute()).map(leadOf);
    },
    count: async (state) => {
      const row = await db
        .selectFrom('lead')
        .select((of) => of.fn.countAll<number>().as('count'))
        .where('workshop_id', '=', workshopId)
        .where('state', '=', state)
        .executeTakeFirstOrThrow();
      return Number(row.count);
    },
    listByDay: async (state, most) => {
      const rows = db
        .selectFrom('lead')
        .selectAll()
        .where('workshop_id', '=', workshopId)
        .where('state', '=', state)
        .orderBy('day', (order) => order.asc().nullsLast())
        .orderBy('made_at_ms')
        .orderBy('id')
        .limit(most);
      return (await rows.execute()).map(leadOf);
    },
    listOn: async (state, on) =>
      (await all().where('state', '=', state).where('day', '=', on).execute()).map(leadOf),
    listOfUnit: async (unitId) => (await all().where('unit_id', '=', unitId).execute()).map(leadOf),
    find: async (id) => {
      const row = await all().where('id', '=', id).executeTakeFirst();
      return row && leadOf(row);
    },
    add: async (lead) => {
      const row = {
        workshop_id: workshopId,
        id: newId(),
        unit_id: lead.unitId,
        rider_id: lead.riderId,
        service_kind: lead.serviceKind,
        wanted_kind: lead.wanted,
        period_id: lead.periodId,
        period_start: lead.periodStart,
        state: lead.state,
        day: lead.day,
        bench_minutes: lead.benchMinutes,
        made_at_ms: lead.madeAt,
        changed_at_ms: lead.madeAt,
        changed_by: lead.changedBy,
        calendar_uid: randomUUID(),
        calendar_sequence: 0,
        beside: JSON.stringify(lead.beside ?? []),
      };
      await db.insertInto('lead').values(row).execute();
      return leadOf(row);
    },
    update: async (id, change) => {
      await db
        .updateTable('lead')
        .set(columnsOf(change))
        .where('workshop_id', '=', workshopId)
        .where('id', '=', id)
        .execute();
    },
    remove: async (id) => {
      await db.deleteFrom('lead').where('workshop_id', '=', workshopId).where('id', '=', id).execute();
    },
    listLater: async (unitId) => {
      const rows = unitId === undefined ? later() : later().where('unit_id', '=', unitId);
      return (await rows.execute()).map(laterOf);
    },
    putLater: async ({ unitId, riderId, at, until }) => {
      const row = { workshop_id: workshopId, unit_id: unitId, rider_id: riderId, said_at_ms: at, until };
      await db
        .insertInto('later')
        .values(row)
        .onConflict((on) => on.columns(['workshop_id', 'unit_id']).doUpdateSet(row))
        .execute();
    },
    feedEpoch: async () => {
      const row = await db
        .selectFrom('workshop')
        .select('feed_epoch')
        .where('id', '=', workshopId)
        .executeTakeFirstOrThrow();
      return row.feed_epoch;
    },
    renewFeed: async () => {
      await db
        .updateTable('workshop')
        .set((set) => ({ feed_epoch: set('feed_epoch', '+', 1) }))
        .where('id', '=', workshopId)
        .execute();
    },
  };
}
