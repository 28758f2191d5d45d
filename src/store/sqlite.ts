import SQLite from 'better-sqlite3';
import { CompiledQuery, type DatabaseConnection, SqliteDialect, SqliteDriver } from 'kysely';
import { ServiceError } from '../errors.js';

/** A reader that turns into a writer cannot wait for another writer: the write lock is taken at the start. */
class ImmediateDriver extends SqliteDriver {
  override async beginTransaction(connection: DatabaseConnection): Promise<void> {
    await connection.executeQuery(CompiledQuery.raw('begin immediate'));
  }
}

class WriterDialect extends SqliteDialect {
  readonly #database: SQLite.Database;
  constructor(database: SQLite.Database) {
    super({ database });
    this.#database = database;
  }
  override createDriver(): SqliteDriver {
    return new ImmediateDriver({ database: this.#database });
  }
}

const WAIT_FOR_LOCK_MS = 10_000;

/** Returns a connection that survives power loss after each commit (WAL with synchronous FULL). */
function connect(path: string, readonly: boolean): SQLite.Database {
  try {
    const database = new SQLite(path, { readonly, fileMustExist: readonly, timeout: WAIT_FOR_LOCK_MS });
    if (!readonly) database.pragma('journal_mode = WAL');
    database.pragma('synchronous = FULL');
    database.pragma('foreign_keys = ON');
    // Without it INSERT OR REPLACE walks past the append-only triggers.
    database.pragma('recursive_triggers = ON');
    return database;
  } catch (cause) {
    throw new ServiceError('store-failed', 'open the store', `The database ${path} cannot be opened.`, {
      hint: 'Is the data folder there, on a local disk, and may this user write to it?',
      cause,
    });
  }
}

/** Two connections: one is a queue, so reads would wait behind a writer's transaction. */
export function openSqlite(path: string): { readonly writer: SqliteDialect; readonly reader: SqliteDialect } {
  const writer = new WriterDialect(connect(path, false));
  return { writer, reader: new SqliteDialect({ database: () => Promise.resolve(connect(path, true)) }) };
}
