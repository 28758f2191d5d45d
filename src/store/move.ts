import { createHash } from 'node:crypto';
import { existsSync } from 'node:fs';
import { type Kysely, sql, type Transaction } from 'kysely';
import { canonical } from '../core/canonical.js';
import { ServiceError } from '../errors.js';
import { SAY_NOTHING, type SayLeft } from '../ports/loops.js';
import { closeAlone, removeReplaced, type Verify } from './backup.js';
import type { Engine } from './engine.js';
import { isServer, migrate, openEngine, storeIn } from './open.js';
import { throwStoreFault } from './storeFault.js';
import { anyTable, type Tables } from './tables.js';

/** Heartbeats are of those who work on the old store. */
type Carried = Exclude<keyof Tables, 'heartbeat' | 'clock_word'>;

/** Every table that is carried, with the columns that its rows are ordered by, each after those that it refers to. */
export const ORDERS: Readonly<Record<Carried, readonly string[]>> = {
  workshop: ['id'],
  handle: ['workshop_id', 'kind', 'handle'],
  contact: ['rider_id'],
  find_word: ['workshop_id', 'word', 'entity_id'],
  fact: ['seq'],
  erasure: ['workshop_id', 'fact_id'],
  file: ['id'],
  arrival: ['id'],
  reading: ['id'],
  reading_again: ['reading_id', 'nth'],
  reread_change: ['workshop_id', 'unit_id', 'service_kind'],
  reading_sensor: ['reading_id', 'sensor_id'],
  reading_mark: ['reading_id'],
  ride: ['id'],
  ride_reading: ['reading_id'],
  standing: ['unit_id', 'service_kind'],
  mail: ['id'],
  notice: ['id'],
  lead: ['id'],
  later: ['workshop_id', 'unit_id'],
  mailbox: ['workshop_id'],
  mailed: ['id'],
  mailed_rider: ['workshop_id', 'rider_id'],
  account: ['id'],
  session: ['token_hash'],
  inbox_file: ['workshop_id', 'home', 'path'],
  program_version: ['workshop_id', 'since_ms'],
};
const TABLES = Object.keys(ORDERS) as Carried[];
const ROWS_AT_ONCE = 200;

/**
 * Copies a whole store, with every workshop in it, to an empty place of the other kind, or of the same; there it is
 * compared row by row and verified before it is kept. Returns how many rows each table has.
 * Errors: `refused` where the place holds a ledger or the copy is not sound, `store-failed`.
 */
export async function moveStore(
  from: string,
  to: string,
  verify: Verify,
  told: SayLeft = SAY_NOTHING,
): Promise<Readonly<Record<string, number>>> {
  if (!isServer(from)) closeAlone(from, 'move');
  const isNew = !isServer(to) && !existsSync(to);
  const source = openEngine(from);
  try {
    const target = openEngine(to);
    try {
      await migrate(source.writing);
      await migrate(target.writing);
      return await source.read((old) =>
        target.writing.transaction().execute((fresh) => copyAll(old, fresh, { target, verify, told })),
      );
    } finally {
      await target.close();
    }
  } catch (error) {
    // An empty file would look like a ledger to come.
    if (isNew) removeReplaced(to);
    return throwStoreFault(error);
  } finally {
    await source.close();
  }
}

async function copyAll(
  old: Transaction<Tables>,
  fresh: Transaction<Tables>,
  { target, verify, told }: { readonly target: Engine; readonly verify: Verify; readonly told: SayLeft },
): Promise<Record<string, number>> {
  const held = await fresh.selectFrom('workshop').select('id').execute();
  if (held.length > 0)
    throw new ServiceError('refused', 'There is a ledger at that place already.', {
      hint: 'Name an empty database, or a file that is not there yet. Nothing was changed.',
    });
  const counts: Record<string, number> = {};
  for (const table of TABLES) {
    const copied = await copyTable(old, fresh, table, told);
    const found = await digestOf(fresh, table, told);
    if (found.digest !== copied.digest)
      throw new ServiceError('refused', `The copy of ${table} is not as it was.`, {
        hint: 'Nothing was kept. Tell of it with the output of: stanchion check',
      });
    counts[table] = copied.count;
  }
  if (target.isShared)
    await sql`select setval(pg_get_serial_sequence('fact', 'seq'), coalesce(max(seq), 0) + 1, false) from fact`.execute(
      fresh,
    );
  for (const { id } of await fresh.selectFrom('workshop').select('id').execute()) {
    const faults = await verify(storeIn(fresh, target, id));
    if (faults.length > 0)
      throw new ServiceError('refused', `The copy is not sound: ${faults.slice(0, 5).join('; ')}.`, {
        hint: 'Nothing was kept. What does stanchion check say of the store itself?',
      });
  }
  return counts;
}

function rowsOf(db: Kysely<Tables>, table: Carried) {
  let query = db.selectFrom(anyTable(table)).selectAll();
  for (const column of ORDERS[table]) query = query.orderBy(column as 'id');
  return query.stream(ROWS_AT_ONCE);
}

async function countOf(db: Kysely<Tables>, table: Carried): Promise<number> {
  const { count } = await db
    .selectFrom(anyTable(table))
    .select(sql<number>`count(*)`.as('count'))
    .executeTakeFirstOrThrow();
  return Number(count);
}

interface Digest {
  readonly count: number;
  readonly digest: string;
}

async function digestOf(db: Kysely<Tables>, table: Carried, told: SayLeft): Promise<Digest> {
  const hash = createHash('sha256');
  const all = await countOf(db, table);
  let count = 0;
  for await (const row of rowsOf(db, table)) {
    await told(`comparing ${table}`, all - count);
    hash.update(canonical(row));
    count += 1;
  }
  return { count, digest: hash.digest('hex') };
}

async function copyTable(
  old: Transaction<Tables>,
  fresh: Transaction<Tables>,
  table: Carried,
  told: SayLeft,
): Promise<Digest> {
  const hash = createHash('sha256');
  const all = await countOf(old, table);
  let [count, batch] = [0, [] as object[]];
  const flush = async (): Promise<void> => {
    if (batch.length === 0) return;
    await fresh
      .insertInto(anyTable(table))
      .values(batch as never)
      .execute();
    batch = [];
  };
  for await (const row of rowsOf(old, table)) {
    await told(`copying ${table}`, all - count);
    hash.update(canonical(row));
    count += 1;
    batch.push(row);
    if (batch.length === ROWS_AT_ONCE) await flush();
  }
  await flush();
  return { count, digest: hash.digest('hex') };
}
