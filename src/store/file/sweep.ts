import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import SQLite from 'better-sqlite3';
import pg from 'pg';
import { ServiceError } from '../../errors.js';
import { isServer } from '../open.js';
import { throwStoreFault } from '../storeFault.js';
import { whileSwept } from './sweeping.js';

/** Leaves nothing at a place of what was deleted there. Errors: `store-failed` while others hold it. */
export async function sweep(place: string, waitMs: number): Promise<void> {
  if (isServer(place)) await sweepServer(place, waitMs);
  else sweepFile(place, waitMs);
}

/** Source: postgresql.org/docs/15/sql-vacuum.html: FULL writes each table anew; archives of the log are the server's. */
async function sweepServer(url: string, waitMs: number): Promise<void> {
  // None would be no limit.
  const client = new pg.Client({ connectionString: url, lock_timeout: Math.max(1, waitMs) });
  try {
    await client.connect();
    await client.query('VACUUM FULL');
  } catch (error) {
    throwStoreFault(error);
  } finally {
    await client.end();
  }
}

const notSwept = (cause: unknown): ServiceError =>
  new ServiceError('store-failed', 'What was deleted is still in the database file.', {
    hint: 'It is done again by itself while the server runs; else stop every other command and do it again.',
    cause,
  });

/**
 * Writes the database anew without what was deleted, and empties its log: deleted rows stay readable in both until then.
 * Errors: `store-failed` while others hold it. Source: sqlite.org/lang_vacuum.html, sqlite.org/wal.html.
 */
function sweepFile(path: string, waitMs: number): void {
  const database = new SQLite(path, { fileMustExist: true, timeout: waitMs });
  try {
    database.exec('VACUUM');
    const [{ busy } = { busy: 1 }] = database.pragma('wal_checkpoint(TRUNCATE)') as { busy: number }[];
    if (busy !== 0) throw new Error('readers hold the log');
  } catch (cause) {
    throw notSwept(cause);
  } finally {
    database.close();
  }
}

/** A page may be reading: it is tried again, and nobody waits for it. Units: milliseconds. */
export const SWEEP_WAIT_MS = 2000;

/**
 * Sweeps in a process of its own: a large file takes long, and neither pages nor the program's end wait for it. Once the
 * signal is aborted it is broken off, which leaves the file as it was.
 * Errors: `store-failed`.
 */
export async function sweepAside(place: string, script: URL, signal: AbortSignal): Promise<void> {
  // A server does it by itself.
  if (isServer(place)) return sweep(place, SWEEP_WAIT_MS);
  await whileSwept(place, () => sweptApart(place, script, signal));
}

/** The process ends with this one, also where this one is killed. */
const sweptApart = (place: string, script: URL, signal: AbortSignal): Promise<void> =>
  new Promise<void>((resolve, reject) => {
    const args = [fileURLToPath(script), place, String(process.pid)];
    execFile(process.execPath, args, { signal, killSignal: 'SIGKILL' }, (error) =>
      error === null ? resolve() : reject(notSwept(error)),
    );
  });
