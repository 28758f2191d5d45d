import { mkdirSync } from 'node:fs';
import { dirname } from 'node:path';
import { Kysely, Migrator, sql } from 'kysely';
import { MIGRATIONS } from '../../migrations/index.js';
import { ServiceError } from '../errors.js';
import type { Store, Tx } from '../ports.js';
import type { Instant } from '../units.js';
import { accountTable } from './accounts.js';
import { contactTable, handleTable } from './contacts.js';
import { copyTable } from './copies.js';
import { factTable } from './facts.js';
import { fileTable, readingTable } from './files.js';
import { inboxTable } from './inbox.js';
import { leadTable } from './leads.js';
import { mailTable, noticeTable } from './outbox.js';
import { rideTable } from './rides.js';
import { newId, type Scope } from './scope.js';
import { openSqlite } from './sqlite.js';
import { standingTable } from './standings.js';
import { throwStoreFault } from './storeFault.js';
import type { Tables } from './tables.js';

function txOf(scope: Scope): Tx {
  return {
    workshopId: scope.workshopId,
    facts: factTable(scope),
    handles: handleTable(scope),
    contacts: contactTable(scope),
    files: fileTable(scope),
    readings: readingTable(scope),
    rides: rideTable(scope),
    standings: standingTable(scope),
    notices: noticeTable(scope),
    mails: mailTable(scope),
    leads: leadTable(scope),
    accounts: accountTable(scope),
    inbox: inboxTable(scope),
    copies: copyTable(scope),
  };
}

/**
 * Returns the store at a path, made or brought up to date first.
 * Errors: `store-failed` when it cannot be opened or was made by a newer program.
 */
export async function openStore(path: string, now: Instant): Promise<Store> {
  mkdirSync(dirname(path), { recursive: true });
  const { writer, reader } = openSqlite(path);
  const writing = new Kysely<Tables>({ dialect: writer });
  await migrate(writing);
  const reading = new Kysely<Tables>({ dialect: reader });
  const workshopId = await ensureWorkshop(writing, now).catch(throwStoreFault);
  const run = <T>(db: Kysely<Tables>, work: (tx: Tx) => Promise<T>): Promise<T> =>
    db
      .transaction()
      .execute((transaction) => work(txOf({ db: transaction, workshopId })))
      .catch(throwStoreFault);
  return {
    write: (work) => run(writing, work),
    read: (work) => run(reading, work),
    integrity: () => integrityOf(reading),
    close: async () => {
      await reading.destroy();
      await writing.destroy();
    },
  };
}

async function migrate(db: Kysely<Tables>): Promise<void> {
  const migrator = new Migrator({ db, provider: { getMigrations: async () => ({ ...MIGRATIONS }) } });
  const { error } = await migrator.migrateToLatest();
  if (!error) return;
  const isNewer = error instanceof Error && /missing|corrupted migrations/i.test(error.message);
  throw new ServiceError(
    'store-failed',
    'prepare the store',
    'The database could not be brought up to date.',
    {
      hint: isNewer
        ? 'It was made by a newer Stanchion: update this program, or restore a backup made with this one.'
        : 'Nothing was changed. See the cause below.',
      cause: error,
    },
  );
}

async function ensureWorkshop(db: Kysely<Tables>, now: Instant): Promise<string> {
  return db.transaction().execute(async (tx) => {
    const found = await tx.selectFrom('workshop').select('id').executeTakeFirst();
    if (found) return found.id;
    const id = newId();
    await tx.insertInto('workshop').values({ id, created_at_ms: now }).execute();
    return id;
  });
}

async function integrityOf(db: Kysely<Tables>): ReturnType<Store['integrity']> {
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
