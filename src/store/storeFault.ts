import SQLite from 'better-sqlite3';
import { ServiceError } from '../errors.js';

/** What the database's own codes mean, by how they begin, and what a person can do. Source: sqlite.org/rescode.html. */
const MEANINGS: readonly (readonly [code: string, message: string, hint: string])[] = [
  [
    'SQLITE_BUSY',
    'Another program holds the database.',
    'Is another command at work, or the file open in a database tool? Close it, and try again.',
  ],
  [
    'SQLITE_FULL',
    'The disk is full.',
    'Make room on the disk of the data folder. Nothing that was taken is lost.',
  ],
  [
    'SQLITE_READONLY',
    'The database cannot be written to.',
    'May this user write to the data folder, or is its disk mounted read-only?',
  ],
  [
    'SQLITE_CANTOPEN',
    'The database cannot be opened.',
    'Is the data folder there, and may this user read and write it?',
  ],
  [
    'SQLITE_IOERR',
    'The disk of the database failed.',
    'Is it still connected, and has it room? Then: stanchion check',
  ],
  ['SQLITE_CORRUPT', 'The database is damaged.', 'Bring back a backup: stanchion restore FILE'],
  ['SQLITE_NOTADB', 'The file is no database.', 'Bring back a backup: stanchion restore FILE'],
];

export const isBusy = (error: unknown): boolean =>
  error instanceof SQLite.SqliteError && error.code.startsWith('SQLITE_BUSY');

/** Throws what the database's fault means to a person; any other error as it is. Errors: ServiceError `store-failed`. */
export function throwStoreFault(error: unknown): never {
  if (!(error instanceof SQLite.SqliteError)) throw error;
  const meaning = MEANINGS.find(([code]) => error.code.startsWith(code));
  if (meaning === undefined) throw error;
  const [, message, hint] = meaning;
  throw new ServiceError('store-failed', 'use the store', message, { hint, cause: error });
}
