import { Kysely, PostgresDialect, sql } from 'kysely';
import pg from 'pg';
import Cursor from 'pg-cursor';
import type { Engine } from './engine.js';
import type { Tables } from './tables.js';

const MOST_CONNECTIONS = 8;
/** As long as a store in a file waits for the writer before it. */
const WAIT_FOR_LOCK_MS = 10_000;
/** A process that stands still inside a transaction must not keep the others out for good. */
const IDLE_MS = 60_000;
const INT8 = 20;

/**
 * Returns a store on a PostgreSQL server. Each of its transactions that write holds the workshop, so that what it read
 * stays true until it ends; workshops do not wait for one another.
 * Source: postgresql.org/docs/15, 13.3.5 Advisory Locks and 13.2.2 Repeatable Read Isolation Level.
 */
export function postgresEngine(url: string): Engine {
  const pool = new pg.Pool({
    connectionString: url,
    max: MOST_CONNECTIONS,
    connectionTimeoutMillis: WAIT_FOR_LOCK_MS,
    idle_in_transaction_session_timeout: IDLE_MS,
    lock_timeout: WAIT_FOR_LOCK_MS,
    application_name: 'stanchion',
    // Counts and moments are far below 2^53.
    types: {
      getTypeParser: (oid, format) => (oid === INT8 ? Number : pg.types.getTypeParser(oid, format)),
    } as pg.CustomTypesConfig,
  });
  // A resting connection that the server closed is replaced by the pool; a query that meets the fault tells of it.
  pool.on('error', () => undefined);
  // One at work that it closed between two queries says so to nobody but its own listeners; the next query fails of it.
  pool.on('connect', (client) => client.on('error', () => undefined));
  const db = new Kysely<Tables>({ dialect: new PostgresDialect({ pool, cursor: Cursor }) });
  return {
    writing: db,
    write: (workshopId, work) =>
      db.transaction().execute(async (tx) => {
        await sql`select pg_advisory_xact_lock(hashtextextended(${workshopId}, 0))`.execute(tx);
        return work(tx);
      }),
    read: (work) =>
      db.transaction().setIsolationLevel('repeatable read').setAccessMode('read only').execute(work),
    direct: null,
    change: async () => null,
    isShared: true,
    clockMs: sql<number>`(extract(epoch from clock_timestamp()) * 1000)::bigint`,
    integrity: async () => ({ integrityFaults: [], foreignKeyFaults: await brokenKeysOf(db) }),
    close: () => db.destroy(),
  };
}

/** The server itself keeps rows sound; a reference that was switched off is all that it can be asked about. */
async function brokenKeysOf(db: Kysely<Tables>): Promise<string[]> {
  const { rows } = await sql<{ name: string }>`
    select conname as name from pg_constraint where contype = 'f' and not convalidated
    union all
    select tgname from pg_trigger where tgenabled = 'D'`.execute(db);
  return rows.map(({ name }) => `${name} is not held by the server`);
}
