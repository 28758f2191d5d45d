import { sql } from 'kysely';
import type { ClockWordTable } from '../ports/clock.js';
import { DAY_MS, instant } from '../units.js';
import type { Scope } from './scope.js';

/** Files reach the program within days of the ride, or come from history and say nothing of the clock. */
const FRESH_MS = 7 * DAY_MS;
/** A ride that ends so long after its file came cannot have been ridden. */
const FUTURE_MS = DAY_MS;

export function clockWordTable({ db, workshopId }: Scope): ClockWordTable {
  return {
    find: async () => {
      const row = await db
        .selectFrom('clock_word')
        .selectAll()
        .where('workshop_id', '=', workshopId)
        .executeTakeFirst();
      if (row === undefined) return null;
      const { doubted_since_ms: since, doubt_seen_at_ms: seenAt, doubt_ran_ms: ran } = row;
      const doubt =
        since === null || seenAt === null
          ? null
          : { since: instant(since), seenAt: instant(seenAt), ranMs: ran ?? 0 };
      return { lastAt: instant(row.last_at_ms), doubt };
    },
    put: async ({ lastAt, doubt }) => {
      const said = {
        last_at_ms: lastAt,
        doubted_since_ms: doubt?.since ?? null,
        doubt_seen_at_ms: doubt?.seenAt ?? null,
        doubt_ran_ms: doubt === null ? null : Math.round(doubt.ranMs),
      };
      await db
        .insertInto('clock_word')
        .values({ workshop_id: workshopId, ...said })
        .onConflict((on) => on.column('workshop_id').doUpdateSet(said))
        .execute();
    },
    countFilesSince: async (since) => {
      const rows = await db
        .selectFrom('arrival')
        .innerJoin('reading', (join) =>
          join
            .onRef('reading.workshop_id', '=', 'arrival.workshop_id')
            .onRef('reading.file_id', '=', 'arrival.file_id'),
        )
        .innerJoin('ride_reading', (join) =>
          join
            .onRef('ride_reading.workshop_id', '=', 'reading.workshop_id')
            .onRef('ride_reading.reading_id', '=', 'reading.id'),
        )
        .select(['arrival.file_id', sql<number>`max(ended_at_ms - arrived_at_ms)`.as('after_ms')])
        .where('arrival.workshop_id', '=', workshopId)
        .where('arrived_at_ms', '>=', since)
        .where('ended_at_ms', 'is not', null)
        .groupBy('arrival.file_id')
        .execute();
      const after = rows.map((row) => Number(row.after_ms));
      return {
        agreeing: after.filter((ms) => ms >= -FRESH_MS && ms <= FUTURE_MS).length,
        contradicting: after.filter((ms) => ms > FUTURE_MS).length,
      };
    },
  };
}
