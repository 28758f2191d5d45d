import { type Selectable, sql } from 'kysely';
import type { PathSaid } from '../core/fileTold.js';
import type { InboxRow, InboxTable } from '../ports/inbox.js';
import { instant } from '../units.js';
import { chunked, type Scope } from './scope.js';
import type { Tables } from './tables.js';

export function inboxTable({ db, workshopId, home }: Scope): InboxTable {
  const ofHome = () =>
    db.selectFrom('inbox_file').where('workshop_id', '=', workshopId).where('home', '=', home);
  return {
    list: async () => {
      const rows = await ofHome().selectAll().orderBy('path').execute();
      return rows.map(rowOf);
    },
    find: async (path) => {
      const row = await ofHome().selectAll().where('path', '=', path).executeTakeFirst();
      return row && rowOf(row);
    },
    oldestUntaken: async () => {
      const { at } = await ofHome()
        .select((eb) => eb.fn.min('seen_at_ms').as('at'))
        .where('settled', '=', sql.lit(0))
        .where((eb) => eb.or([eb('code', 'is', null), eb('code', '!=', 'fault')]))
        .executeTakeFirstOrThrow();
      return at === null ? null : instant(Number(at));
    },
    listSetAside: async (most) => {
      const rows = await ofHome()
        .selectAll()
        // In these words, so that an index of them alone is taken.
        .where(sql<boolean>`outcome = 'set-aside'`)
        .where('settled', '=', 1)
        .orderBy('seen_at_ms', 'desc')
        .orderBy('path')
        .limit(most)
        .execute();
      return rows.map(rowOf).sort((a, b) => (a.path < b.path ? -1 : 1));
    },
    listThere: async (paths) => {
      const found: string[] = [];
      for (const some of chunked(paths))
        found.push(
          ...(await ofHome().select('path').where('path', 'in', some).execute()).map((row) => row.path),
        );
      return found;
    },
    remove: async (paths) => {
      for (const some of chunked(paths)) {
        await db
          .deleteFrom('inbox_file')
          .where('workshop_id', '=', workshopId)
          .where('home', '=', home)
          .where('path', 'in', some)
          .execute();
      }
    },
    put: async (row) => {
      const values = {
        workshop_id: workshopId,
        home,
        path: row.path,
        bytes: row.bytes,
        modified_ms: row.modifiedMs,
        stamp: row.stamp,
        seen_at_ms: row.seenAt,
        settled: row.settled ? 1 : 0,
        outcome: row.outcome,
        code: row.code,
        reason: null,
        said: row.said === null ? null : JSON.stringify(row.said),
      };
      await db
        .insertInto('inbox_file')
        .values(values)
        .onConflict((on) => on.columns(['workshop_id', 'home', 'path']).doUpdateSet(values))
        .execute();
    },
  };
}

const rowOf = (row: Selectable<Tables['inbox_file']>): InboxRow => ({
  path: row.path,
  bytes: row.bytes,
  modifiedMs: row.modified_ms,
  stamp: row.stamp,
  seenAt: instant(row.seen_at_ms),
  settled: row.settled === 1,
  outcome: row.outcome as InboxRow['outcome'],
  code: row.code,
  said: saidIn(row),
});

const saidIn = ({ said, reason }: { said: string | null; reason: string | null }): PathSaid | null => {
  if (said !== null) return JSON.parse(said) as PathSaid;
  return reason === null ? null : { former: reason };
};
