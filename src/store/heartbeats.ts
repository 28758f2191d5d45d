import { sql } from 'kysely';
import type { HeartbeatTable, LoopPulse } from '../ports/loops.js';
import { DAY_MS, secondsIn } from '../units.js';
import type { Scope } from './scope.js';
import { hostOf, isGone } from './worker.js';

const KEPT_MS = 7 * DAY_MS;

export function heartbeatTable({ db, workshopId, home, worker, clockMs }: Scope): HeartbeatTable {
  return {
    list: async () => {
      const rows = await db
        .selectFrom('heartbeat')
        .selectAll()
        .select(sql<number>`${clockMs} - beat_at_ms`.as('silent_ms'))
        .where('workshop_id', '=', workshopId)
        .orderBy('worker')
        .execute();
      return rows.map((row) => ({
        host: hostOf(row.worker),
        isOwn: row.worker === worker,
        isGone: isGone(row.worker),
        home: row.home,
        loops: JSON.parse(row.loops) as LoopPulse[],
        silentS: secondsIn(Number(row.silent_ms)),
      }));
    },
    put: async (loops) => {
      const said = { home, loops: JSON.stringify(loops), beat_at_ms: clockMs };
      await db
        .insertInto('heartbeat')
        .values({ workshop_id: workshopId, worker, ...said })
        .onConflict((on) => on.columns(['workshop_id', 'worker']).doUpdateSet(said))
        .execute();
      await db
        .deleteFrom('heartbeat')
        .where('workshop_id', '=', workshopId)
        .where('beat_at_ms', '<', sql<number>`${clockMs} - ${KEPT_MS}`)
        .execute();
    },
    remove: async () => {
      await db
        .deleteFrom('heartbeat')
        .where('workshop_id', '=', workshopId)
        .where('worker', '=', worker)
        .execute();
    },
  };
}
