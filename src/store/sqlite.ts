import { setTimeout } from 'node:timers/promises';
import SQLite from 'better-sqlite3';
import {
  CompiledQuery,
  type DatabaseConnection,
  Kysely,
  SqliteAdapter,
  type SqliteDatabase,
  SqliteDialect,
  SqliteDriver,
  type SqliteStatement,
  sql,
} from 'kysely';
import { ServiceError } from '../errors.js';
import { whyNot } from '../whyNot.js';
import type { Engine } from './engine.js';
import { isSwept } from './file/sweeping.js';
import { isBusy, isLost, throwStoreFault } from './storeFault.js';
import type { Tables } from './tables.js';

const WAIT_FOR_LOCK_MS = 10_000;
/** While the database itself waits for a lock nothing else in this process moves, so it waits in short pieces. */
const LOCK_TRY_MS = 50;

/** A reader that turns into a writer cannot wait for another writer: the write lock is taken at the start. */
class ImmediateDriver extends SqliteDriver {
  readonly #path: string;
  constructor(database: SqliteDatabase, path: string) {
    super({ database });
    this.#path = path;
  }

  override async beginTransaction(connection: DatabaseConnection): Promise<void> {
    const until = performance.now() + WAIT_FOR_LOCK_MS;
    for (;;) {
      try {
        await connection.executeQuery(CompiledQuery.raw('begin immediate'));
        return;
      } catch (error) {
        if (!isBusy(error) || (performance.now() > until && !isSwept(this.#path))) throw error;
        await setTimeout(LOCK_TRY_MS);
      }
    }
  }

  /** A full disk makes the database roll back by itself; a second time would hide why. */
  override async rollbackTransaction(connection: DatabaseConnection): Promise<void> {
    try {
      await super.rollbackTransaction(connection);
    } catch (error) {
      if (!(error instanceof Error) || !error.message.includes('no transaction is active')) throw error;
    }
  }
}

/** Tables are made all or not at all; without this a program killed while it makes them leaves half of them for good. */
class WholeSchemaAdapter extends SqliteAdapter {
  override get supportsTransactionalDdl(): boolean {
    return true;
  }
}

class WriterDialect extends SqliteDialect {
  readonly #driver: () => ImmediateDriver;
  constructor(database: SqliteDatabase, path: string) {
    super({ database });
    this.#driver = () => new ImmediateDriver(database, path);
  }
  override createAdapter(): SqliteAdapter {
    return new WholeSchemaAdapter();
  }
  override createDriver(): SqliteDriver {
    return this.#driver();
  }
}

const CHANGE = CompiledQuery.raw('pragma data_version');
const MOST_STATEMENTS = 300;

/** Keeps the statements used last: preparing one took a quarter of the time that small queries did. */
function keepingStatements(database: SQLite.Database): SqliteDatabase {
  const kept = new Map<string, SqliteStatement>();
  return {
    close: () => void database.close(),
    prepare: (text) => {
      const statement = kept.get(text) ?? (database.prepare(text) as SqliteStatement);
      kept.delete(text);
      kept.set(text, statement);
      if (kept.size > MOST_STATEMENTS) kept.delete(kept.keys().next().value!);
      return statement;
    },
  };
}

function rowsOf(database: SqliteDatabase, text: string, values: readonly unknown[]): readonly unknown[] {
  const statement = database.prepare(text);
  if (statement.reader) return statement.all(values);
  statement.run(values);
  return [];
}

/** Returns a connection that survives power loss after each commit (WAL with synchronous FULL). */
function connect(path: string, readonly: boolean): SQLite.Database {
  try {
    const database = new SQLite(path, { readonly, fileMustExist: readonly, timeout: WAIT_FOR_LOCK_MS });
    if (!readonly) database.pragma('journal_mode = WAL');
    database.pragma('synchronous = FULL');
    database.pragma('foreign_keys = ON');
    // Without it INSERT OR REPLACE walks past the append-only triggers.
    database.pragma('recursive_triggers = ON');
    if (!readonly) database.pragma(`busy_timeout = ${LOCK_TRY_MS}`);
    return database;
  } catch (cause) {
    if (isLost(cause)) throwStoreFault(cause);
    const why = whyNot(path, cause);
    throw new ServiceError(
      'store-failed',
      `The database ${path} cannot be opened.${why === null ? '' : ` ${why.message}`}`,
      { hint: why?.hint ?? 'Is it a file on a local disk?', cause },
    );
  }
}

/**
 * Returns a store in a file. Two connections: one is a queue, so reads would wait behind a writer's transaction.
 * Errors: `store-failed` where it cannot be opened.
 */
export function sqliteEngine(path: string): Engine {
  const writer = keepingStatements(connect(path, false));
  const writing = new Kysely<Tables>({ dialect: new WriterDialect(writer, path) });
  let reader: SqliteDatabase | null = null;
  const reading = new Kysely<Tables>({
    dialect: new SqliteDialect({
      database: async () => {
        reader = keepingStatements(connect(path, true));
        return reader;
      },
    }),
  });
  return {
    writing,
    write: (_workshopId, work) => writing.transaction().execute(work),
    read: (work) => reading.transaction().execute(work),
    // Source: sqlite.org/pragma.html, data_version: it changes with what other connections commit, and not with one's own.
    change: async (db) => (await db.executeQuery<{ data_version: number }>(CHANGE)).rows[0]!.data_version,
    direct: {
      writing: (text, values) => rowsOf(writer, text, values),
      reading: (text, values) => rowsOf(reader!, text, values),
    },
    isShared: false,
    clockMs: sql<number>`cast(unixepoch('subsec') * 1000 as integer)`,
    integrity: () => integrityOf(reading),
    close: async () => {
      await reading.destroy();
      await writing.destroy();
    },
  };
}

async function integrityOf(db: Kysely<Tables>): ReturnType<Engine['integrity']> {
  const integrity = await sql<{ integrity_check: string }>`PRAGMA integrity_check`.execute(db);
  const foreign = await sql<{
    table: string;
    rowid: number;
    parent: string;
  }>`PRAGMA foreign_key_check`.execute(db);
  return {
    integrityFaults: integrity.rows.map((row) => row.integrity_check).filter((line) => line !== 'ok'),
    foreignKeyFaults: foreign.rows.map((row) => `${row.table} row ${row.rowid} has no ${row.parent}`),
  };
}
