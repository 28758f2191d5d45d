import { sql } from 'kysely';
import { pressingRank } from '../core/states.js';
import type { State } from '../core/tokens.js';
import type { ShownStanding, StandingRow, StandingTable } from '../ports/standings.js';
import { day, instant } from '../units.js';
import { ask, putRows } from './known/built.js';
import { chunked, type Scope } from './scope.js';
import type { Tables } from './tables.js';

const LATER_THAN_ANY = '9999-12-31';

type InOrder = Pick<Tables['standing'], 'rank' | 'likely_p50' | 'hours_left' | 'service_kind'>;

const inOrder = (a: InOrder, b: InOrder): number =>
  a.rank - b.rank ||
  (a.likely_p50 < b.likely_p50 ? -1 : a.likely_p50 > b.likely_p50 ? 1 : 0) ||
  a.hours_left - b.hours_left ||
  (a.service_kind < b.service_kind ? -1 : 1);

export function standingTable(scope: Scope): StandingTable {
  const { db, workshopId } = scope;
  const all = () => db.selectFrom('standing').selectAll().where('workshop_id', '=', workshopId);
  const shownOf = (row: { body: string; stale: number }): ShownStanding => ({
    ...(JSON.parse(row.body) as ShownStanding),
    stale: row.stale === 1,
  });
  const standingOf = (row: { body: string; stale: number; forecast: string }): StandingRow => ({
    ...shownOf(row),
    forecast: JSON.parse(row.forecast),
  });
  const shown = () =>
    db.selectFrom('standing').select(['body', 'stale']).where('workshop_id', '=', workshopId);
  return {
    list: async () => (await all().orderBy('unit_id').orderBy('service_kind').execute()).map(standingOf),
    listOf: async (unitId) =>
      (
        await ask(scope, 'standings of a unit', [workshopId, unitId], () =>
          all().where('unit_id', '=', unitId).orderBy('service_kind'),
        )
      ).map(standingOf),
    listUnitsIn: async (states) => {
      const rows = await db
        .selectFrom('standing')
        .select('unit_id')
        .distinct()
        .where('workshop_id', '=', workshopId)
        .where('state', 'in', states)
        .execute();
      return rows.map((row) => row.unit_id);
    },
    listOfMany: async (unitIds) => {
      const found: StandingRow[] = [];
      for (const some of chunked(unitIds)) {
        const rows = await all().where('unit_id', 'in', some).execute();
        found.push(...rows.map(standingOf));
      }
      return found;
    },
    listShown: async (unitIds) => {
      if (unitIds === 'all') return (await shown().execute()).map(shownOf);
      const found: ShownStanding[] = [];
      for (const some of chunked(unitIds))
        found.push(...(await shown().where('unit_id', 'in', some).execute()).map(shownOf));
      return found;
    },
    page: async ({ states, from, most }) => {
      const rows = await db
        .selectFrom('standing')
        .select('unit_id')
        .where('workshop_id', '=', workshopId)
        .where('is_first', '=', 1)
        // Said so, no index by state is taken, whose rows would all have to be sorted.
        .where(sql<string>`state || ''`, 'in', states)
        .orderBy('rank')
        .orderBy('likely_p50')
        .orderBy('hours_left')
        .orderBy('tag')
        .limit(most)
        .offset(from)
        .execute();
      return rows.map((row) => row.unit_id);
    },
    listFirstLikely: async ({ from, to, most, after }) => {
      const rows = await db
        .selectFrom('standing')
        .select(['unit_id', 'service_kind', 'likely_p50'])
        .where('workshop_id', '=', workshopId)
        .where('likely_p50', '>=', from)
        .where('likely_p50', '<=', to)
        .where(({ not, exists, selectFrom }) =>
          not(
            exists(
              selectFrom('standing as other')
                .select('other.unit_id')
                .whereRef('other.unit_id', '=', 'standing.unit_id')
                .where(({ eb, and, or }) =>
                  or([
                    eb('other.likely_p50', '<', eb.ref('standing.likely_p50')),
                    and([
                      eb('other.likely_p50', '=', eb.ref('standing.likely_p50')),
                      eb('other.service_kind', '<', eb.ref('standing.service_kind')),
                    ]),
                  ]),
                ),
            ),
          ),
        )
        .orderBy('likely_p50')
        .orderBy('unit_id')
        .limit(most)
        .offset(after)
        .execute();
      return rows.map((row) => ({
        unitId: row.unit_id,
        serviceKind: row.service_kind,
        day: day(row.likely_p50),
      }));
    },
    summary: async () => {
      const rows = await db
        .selectFrom('standing')
        .select((of) => ['state', of.fn.countAll<number>().as('count'), of.fn.min('as_of_ms').as('oldest')])
        .where('workshop_id', '=', workshopId)
        .where('is_first', '=', 1)
        .groupBy('state')
        .execute();
      const oldest = rows.map((row) => Number(row.oldest));
      return {
        counts: new Map(rows.map((row) => [row.state as State, Number(row.count)])),
        asOf: oldest.length === 0 ? null : instant(Math.min(...oldest)),
      };
    },
    listUnits: async (most) => {
      const own = () => db.selectFrom('standing').where('workshop_id', '=', workshopId);
      // In the order of an index, so that nothing is sorted to be counted.
      const all = await db
        .selectFrom(own().select('unit_id').groupBy(['tag', 'unit_id']).as('unit'))
        .select((of) => of.fn.countAll<number>().as('count'))
        .executeTakeFirstOrThrow();
      const first = await own()
        .select(['tag', 'unit_id'])
        .groupBy(['tag', 'unit_id'])
        .orderBy('tag')
        .orderBy('unit_id')
        .limit(most)
        .execute();
      return { count: Number(all.count), unitIds: first.map((row) => row.unit_id) };
    },
    put: async (unitId, standings) => {
      await ask(scope, 'drop standings', [workshopId, unitId], () =>
        db.deleteFrom('standing').where('workshop_id', '=', workshopId).where('unit_id', '=', unitId),
      );
      const [called] = await ask(scope, 'name of a unit', [workshopId, 'unit', unitId, 1], () =>
        db
          .selectFrom('handle')
          .select('handle')
          .where('workshop_id', '=', workshopId)
          .where('kind', '=', 'unit')
          .where('entity_id', '=', unitId)
          .orderBy('fact_seq', 'desc')
          .limit(1),
      );
      const rows = standings.map(({ stale, forecast, ...standing }) => ({
        workshop_id: workshopId,
        unit_id: standing.unitId,
        service_kind: standing.serviceKind,
        state: standing.state,
        rank: pressingRank(standing.state),
        likely_p50: standing.likely.p50 ?? LATER_THAN_ANY,
        hours_left: standing.hoursLeft ?? 0,
        tag: called?.handle ?? '',
        as_of_ms: standing.asOf,
        stale: stale ? 1 : 0,
        is_first: 0,
        body: JSON.stringify(standing),
        forecast: JSON.stringify(forecast),
      }));
      const [first] = [...rows].sort(inOrder);
      if (first) first.is_first = 1;
      await putRows(scope, 'standing', rows);
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
