import SQLite from 'better-sqlite3';
import { ServiceError } from '../errors.js';

/**
 * Writes the database anew without what was deleted, and empties its log: deleted rows stay readable in both until then.
 * Errors: `store-failed` while others hold it. Source: sqlite.org/lang_vacuum.html, sqlite.org/wal.html.
 */
export function sweep(path: string): void {
  const database = new SQLite(path, { fileMustExist: true, timeout: 10_000 });
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
        hint: 'Stop the server and every other command, then do it again.',
        cause,
      },
    );
  } finally {
    database.close();
  }
}
