import type { RereadTable } from '../../ports/readings.js';
import { seconds, thousandths } from '../../units.js';
import { chunked, type Scope } from '../scope.js';
import { textsOf } from './readings.js';

export function rereadTable({ db, workshopId, known }: Scope): RereadTable {
  const before = (version: number) =>
    db
      .selectFrom('reading')
      .where('reading.workshop_id', '=', workshopId)
      .where('reader_version', '<', version);
  return {
    next: async (version) =>
      before(version)
        .innerJoin('file', 'file.id', 'reading.file_id')
        .select(['file.id', 'file.sha256'])
        .orderBy('reader_version')
        .orderBy('file_id')
        .limit(1)
        .executeTakeFirst(),
    count: async (version) => {
      const { count } = await before(version)
        .select((of) => of.fn.countAll<number>().as('count'))
        .executeTakeFirstOrThrow();
      return Number(count);
    },
    put: async (readingId, version, reread, at) => {
      known.readings.forget();
      await db
        .updateTable('reading')
        .set({ reader_version: version })
        .where('workshop_id', '=', workshopId)
        .where('id', '=', readingId)
        .execute();
      if (reread.outcome === 'same') return;
      const { count } = await db
        .selectFrom('reading_again')
        .select((of) => of.fn.countAll<number>().as('count'))
        .where('reading_id', '=', readingId)
        .executeTakeFirstOrThrow();
      await db
        .insertInto('reading_again')
        .values({
          workshop_id: workshopId,
          reading_id: readingId,
          nth: Number(count) + 1,
          reader_version: version,
          read_at_ms: at,
          outcome: reread.outcome,
          ...(reread.outcome === 'read' ? textsOf(reread.reading) : { body: null, profile: null }),
        })
        .execute();
    },
    retry: async (readingIds) => {
      for (const some of chunked(readingIds))
        await db
          .updateTable('reading')
          .set({ reader_version: 0 })
          .where('workshop_id', '=', workshopId)
          .where('id', 'in', some)
          .execute();
    },
    listKept: async (readingIds) => {
      const found: string[] = [];
      for (const some of chunked(readingIds)) {
        const rows = await db
          .selectFrom('reading_again')
          .select('reading_id')
          .where('workshop_id', '=', workshopId)
          .where('reading_id', 'in', some)
          .where('outcome', '=', 'kept')
          .where(({ not, exists, selectFrom }) =>
            not(
              exists(
                selectFrom('reading_again as later')
                  .select('later.nth')
                  .whereRef('later.reading_id', '=', 'reading_again.reading_id')
                  .whereRef('later.nth', '>', 'reading_again.nth'),
              ),
            ),
          )
          .execute();
        found.push(...rows.map((row) => row.reading_id));
      }
      return found;
    },
    addUp: async ({ files, lost, kept, changes }) => {
      await db
        .updateTable('workshop')
        .set((of) => ({
          reread_files: of('reread_files', '+', files),
          reread_lost: of('reread_lost', '+', lost),
          reread_kept: of('reread_kept', '+', kept),
        }))
        .where('id', '=', workshopId)
        .execute();
      for (const { unitId, serviceKind, before: was, after } of changes) {
        const more = { movingS: after.movingS - was.movingS, terrainMs: after.terrainMs - was.terrainMs };
        await db
          .insertInto('reread_change')
          .values({
            workshop_id: workshopId,
            unit_id: unitId,
            service_kind: serviceKind,
            moving_s: was.movingS,
            terrain_ms: was.terrainMs,
            moving_s_more: more.movingS,
            terrain_ms_more: more.terrainMs,
          })
          .onConflict((on) =>
            on.columns(['workshop_id', 'unit_id', 'service_kind']).doUpdateSet((of) => ({
              moving_s_more: of('reread_change.moving_s_more', '+', more.movingS),
              terrain_ms_more: of('reread_change.terrain_ms_more', '+', more.terrainMs),
            })),
          )
          .execute();
      }
    },
    takeSum: async () => {
      const { files, lost, kept } = await db
        .selectFrom('workshop')
        .select(['reread_files as files', 'reread_lost as lost', 'reread_kept as kept'])
        .where('id', '=', workshopId)
        .executeTakeFirstOrThrow();
      const rows = await db
        .selectFrom('reread_change')
        .selectAll()
        .where('workshop_id', '=', workshopId)
        .orderBy('unit_id')
        .orderBy('service_kind')
        .execute();
      const none = { reread_files: 0, reread_lost: 0, reread_kept: 0 };
      await db.updateTable('workshop').set(none).where('id', '=', workshopId).execute();
      await db.deleteFrom('reread_change').where('workshop_id', '=', workshopId).execute();
      const changes = rows
        .filter((row) => row.moving_s_more !== 0 || row.terrain_ms_more !== 0)
        .map((row) => ({
          unitId: row.unit_id,
          serviceKind: row.service_kind,
          before: { movingS: seconds(row.moving_s), terrainMs: thousandths(row.terrain_ms) },
          after: {
            movingS: seconds(row.moving_s + row.moving_s_more),
            terrainMs: thousandths(row.terrain_ms + row.terrain_ms_more),
          },
        }));
      return { files, lost, kept, changes };
    },
  };
}
