import type { StandingRow, StandingTable } from '../ports.js';
import { chunked, type Scope } from './scope.js';

export function standingTable({ db, workshopId }: Scope): StandingTable {
  const all = () => db.selectFrom('standing').selectAll().where('workshop_id', '=', workshopId);
  const standingOf = (row: { body: string; stale: number }): StandingRow => ({
    ...(JSON.parse(row.body) as StandingRow),
    stale: row.stale === 1,
  });
  return {
    list: async () => (await all().orderBy('unit_id').orderBy('service_kind').execute()).map(standingOf),
    listOf: async (unitId) =>
      (await all().where('unit_id', '=', unitId).orderBy('service_kind').execute()).map(standingOf),
    put: async (unitId, standings) => {
      await db
        .deleteFrom('standing')
        .where('workshop_id', '=', workshopId)
        .where('unit_id', '=', unitId)
        .execute();
      const rows = standings.map(({ stale, ...standing }) => ({
        workshop_id: workshopId,
        unit_id: standing.unitId,
        service_kind: standing.serviceKind,
        state: standing.state,
        likely_p50: standing.likely.p50,
        as_of_ms: standing.asOf,
        stale: stale ? 1 : 0,
        body: JSON.stringify(standing),
      }));
      if (rows.length > 0) await db.insertInto('standing').values(rows).execute();
    },
    listUnitsToRefresh: async (dayStart, dayEnd, most) => {
      const rows = await db
        .selectFrom('standing')
        .select('unit_id')
        .distinct()
        .where('workshop_id', '=', workshopId)
        .where((where) =>
          where.or([
            where('stale', '=', 1),
            where('as_of_ms', '<', dayStart),
            where('as_of_ms', '>=', dayEnd),
          ]),
        )
        .limit(most)
        .execute();
      return rows.map((row) => row.unit_id);
    },
    markStale: async (unitIds) => {
      for (const some of chunked(unitIds)) {
        await db
          .updateTable('standing')
          .set({ stale: 1 })
          .where('workshop_id', '=', workshopId)
          .where('unit_id', 'in', some)
          .execute();
      }
    },
  };
}
