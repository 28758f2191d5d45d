import type { Selectable } from 'kysely';
import { isLive, type Later } from '../core/plan/leads.js';
import type { LeadRow, LeadTable } from '../ports/leads.js';
import { type Day, day, instant } from '../units.js';
import { newId, type Scope } from './scope.js';
import type { Tables } from './tables.js';

const dayOrNull = (text: string | null): Day | null => (text === null ? null : day(text));

const leadOf = (row: Selectable<Tables['lead']>): LeadRow => ({
  id: row.id,
  factId: row.fact_id,
  step: row.step as LeadRow['step'],
  unitId: row.unit_id,
  bikeId: row.bike_id,
  riderId: row.rider_id,
  serviceKind: row.service_kind,
  wanted: row.wanted_kind,
  beside: JSON.parse(row.beside) as readonly string[],
  periodId: row.period_id,
  periodStart: dayOrNull(row.period_start),
  state: row.state as LeadRow['state'],
  day: dayOrNull(row.day),
  offered: JSON.parse(row.offered) as readonly Day[],
  wish: row.wish,
  benchMinutes: row.bench_minutes,
  madeAt: instant(row.made_at_ms),
  changedAt: instant(row.changed_at_ms),
  changedBy: row.changed_by,
  calendarUid: row.calendar_uid,
  calendarSequence: row.calendar_sequence,
});

const columnsOf = (lead: LeadRow, workshopId: string): Tables['lead'] => ({
  workshop_id: workshopId,
  id: lead.id,
  fact_id: lead.factId,
  step: lead.step,
  unit_id: lead.unitId,
  bike_id: lead.bikeId,
  rider_id: lead.riderId,
  service_kind: lead.serviceKind,
  wanted_kind: lead.wanted,
  beside: JSON.stringify(lead.beside ?? []),
  period_id: lead.periodId,
  period_start: lead.periodStart,
  state: lead.state,
  day: lead.day,
  offered: JSON.stringify(lead.offered),
  wish: lead.wish,
  bench_minutes: lead.benchMinutes,
  made_at_ms: lead.madeAt,
  changed_at_ms: lead.changedAt,
  changed_by: lead.changedBy,
  calendar_uid: lead.calendarUid,
  calendar_sequence: lead.calendarSequence,
});

/** What an open lead has in place of a booking. */
const NO_BOOKING = {
  factId: null,
  step: null,
  bikeId: null,
  state: 'open',
  day: null,
  offered: [],
  wish: null,
  calendarUid: '',
  calendarSequence: 0,
} as const satisfies Partial<LeadRow>;

export function leadTable({ db, workshopId }: Scope): LeadTable {
  const all = () =>
    db
      .selectFrom('lead')
      .selectAll()
      .where('workshop_id', '=', workshopId)
      .orderBy('made_at_ms')
      .orderBy('id')
      .orderBy('unit_id');
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
        .select((of) => of.fn.count<number>('id').distinct().as('count'))
        .where('workshop_id', '=', workshopId)
        .where('state', '=', state)
        .executeTakeFirstOrThrow();
      return Number(row.count);
    },
    listByDay: async (state, most, isLatestFirst = false) => {
      const rows = db
        .selectFrom('lead')
        .selectAll()
        .where('workshop_id', '=', workshopId)
        .where('state', '=', state)
        .orderBy('day', (order) => (isLatestFirst ? order.desc() : order.asc()).nullsLast())
        .orderBy('made_at_ms', isLatestFirst ? 'desc' : 'asc')
        .orderBy('id')
        .orderBy('unit_id')
        .limit(most);
      return (await rows.execute()).map(leadOf);
    },
    listOn: async (state, on) =>
      (await all().where('state', '=', state).where('day', '=', on).execute()).map(leadOf),
    listOfUnit: async (unitId) => (await all().where('unit_id', '=', unitId).execute()).map(leadOf),
    listOf: async (id) => (await all().where('id', '=', id).execute()).map(leadOf),
    addOpen: async (lead) => {
      const added = { ...NO_BOOKING, ...lead, id: newId(), changedAt: lead.madeAt };
      await db.insertInto('lead').values(columnsOf(added, workshopId)).execute();
      return added;
    },
    changeOpen: async (id, { riderId, serviceKind, wanted, beside, periodId, periodStart, benchMinutes }) => {
      const columns = {
        ...{ rider_id: riderId, service_kind: serviceKind, wanted_kind: wanted, period_id: periodId },
        ...{ period_start: periodStart, bench_minutes: benchMinutes, beside: JSON.stringify(beside ?? []) },
      };
      await db
        .updateTable('lead')
        .set(columns)
        .where('workshop_id', '=', workshopId)
        .where('id', '=', id)
        .where('state', '=', 'open')
        .execute();
    },
    removeOpen: async (id) => {
      await db
        .deleteFrom('lead')
        .where('workshop_id', '=', workshopId)
        .where('id', '=', id)
        .where('state', '=', 'open')
        .execute();
    },
    putBooking: async (id, rows) => {
      await db.deleteFrom('lead').where('workshop_id', '=', workshopId).where('id', '=', id).execute();
      if (rows.length === 0) return;
      const live = rows.filter(isLive).map(({ unitId }) => unitId);
      if (live.length > 0)
        await db
          .deleteFrom('lead')
          .where('workshop_id', '=', workshopId)
          .where('state', '=', 'open')
          .where('unit_id', 'in', live)
          .execute();
      await db
        .insertInto('lead')
        .values(rows.map((row) => columnsOf(row, workshopId)))
        .execute();
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
