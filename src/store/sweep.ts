import SQLite from 'better-sqlite3';
import { ServiceError } from '../errors.js';

/**
 * Writes the database anew without what was deleted, and empties its log: deleted rows stay readable in both until then.
 * Errors: `store-failed` while others hold it. Source: sqlite.org/lang_vacuum.html, sqlite.org/wal.html.
 */
export function sweep(path: string, waitMs: number): void {
  const database = new SQLite(path, { fileMustExist: true, timeout: waitMs });
  try {
    database.exec('VACUUM');
    const [{ busy } = { busy: 1 }] = database.pragma('wal_checkpoint(TRUNCATE)') as { busy: number }[];
    if (busy !== 0) throw new Error('readers hold the log');
  } catch (cause) {
    throw new ServiceError(
      'store-failed',
      'sweep the store',
      'What was deleted is still in the database file.',
      {
        hint: 'It is done again by itself while the server runs; else stop every other command and do it again.',
        cause,
      },
    );
  } finally {
    database.close();
  }
}
