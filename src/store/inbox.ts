import type { PathSaid } from '../core/fileTold.js';
import type { InboxRow, InboxTable } from '../ports/inbox.js';
import { instant } from '../units.js';
import { chunked, type Scope } from './scope.js';

export function inboxTable({ db, workshopId, home }: Scope): InboxTable {
  return {
    list: async () => {
      const rows = await db
        .selectFrom('inbox_file')
        .selectAll()
        .where('workshop_id', '=', workshopId)
        .where('home', '=', home)
        .orderBy('path')
        .execute();
      return rows.map((row) => ({
        path: row.path,
        bytes: row.bytes,
        modifiedMs: row.modified_ms,
        stamp: row.stamp,
        seenAt: instant(row.seen_at_ms),
        settled: row.settled === 1,
        outcome: row.outcome as InboxRow['outcome'],
        code: row.code,
        said: saidIn(row),
      }));
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

const saidIn = ({ said, reason }: { said: string | null; reason: string | null }): PathSaid | null => {
  if (said !== null) return JSON.parse(said) as PathSaid;
  return reason === null ? null : { former: reason };
};
