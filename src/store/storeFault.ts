import SQLite from 'better-sqlite3';
import pg from 'pg';
import { ServiceError } from '../errors.js';

const UNREACHED = 'Is it running, and is STANCHION_DATABASE_URL right? Nothing that was taken is lost.';

/**
 * What the database's own codes mean, by how they begin, and what a person can do.
 * Source: sqlite.org/rescode.html; postgresql.org/docs/15/errcodes-appendix.html.
 */
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
  [
    '55P03',
    'Another worker holds the workshop.',
    'Is a long import or a new weighing at work? It is tried again, or try again later.',
  ],
  ['53', 'The database server is out of room or connections.', 'Nothing that was taken is lost.'],
  [
    '28000',
    'The database server does not let this user in from this machine.',
    'Does its pg_hba.conf have a line for both? One with hostssl asks for an address that ends in ?sslmode=verify-full',
  ],
  ['28', 'The database server refused the user or password.', 'Is STANCHION_DATABASE_URL right?'],
  ['3D000', 'There is no such database on the server.', 'Is STANCHION_DATABASE_URL right?'],
  ['42501', 'The database user may not do this.', 'It must own its database, or may create tables in it.'],
  ['57P', 'The database server is being stopped.', 'It goes on once the server is back.'],
  ['25P03', 'This process stood still for too long.', 'Nothing of it was stored; it is tried again.'],
  ['08', 'The connection to the database server broke.', UNREACHED],
  ['ECONN', 'The database server cannot be reached.', UNREACHED],
  ['ENOTFOUND', 'The database server cannot be found.', UNREACHED],
  ['EAI_AGAIN', 'The database server cannot be found.', UNREACHED],
  ['ETIMEDOUT', 'The database server does not answer.', UNREACHED],
  [
    'CERTIFICATE',
    'The certificate of the database server is not one that this machine trusts.',
    'Bring it here and name it at the end of STANCHION_DATABASE_URL: ?sslmode=verify-full&sslrootcert=FILE',
  ],
  [
    'OTHER-NAME',
    'The certificate of the database server is for another name.',
    'Use the name or address in it in STANCHION_DATABASE_URL, or make one with the name used there.',
  ],
  [
    'NO-TLS',
    'The database server does not encrypt.',
    'Switch ssl on there, or take sslmode out of STANCHION_DATABASE_URL where nobody else shares the network.',
  ],
];

/** What a backup mends: a damaged database, or one of a newer program. */
export class LostStore extends ServiceError {}

const LOST = ['SQLITE_CORRUPT', 'SQLITE_NOTADB'];

const codeOf = (error: unknown): string | undefined => {
  if (error instanceof SQLite.SqliteError || error instanceof pg.DatabaseError) return error.code;
  const fault = error instanceof Error ? tlsFaultOf(error) : undefined;
  if (fault !== undefined) return fault;
  const isFromServer = error instanceof Error && 'code' in error && 'syscall' in error;
  // The driver says without a code that a connection ended while it was in use, or that none came in time.
  if (isFromServer) return String(error.code);
  const isCut =
    error instanceof Error &&
    /^Connection terminated|^timeout exceeded when trying|connection error and is not queryable/.test(
      error.message,
    );
  return isCut ? '08' : undefined;
};

/** Source: nodejs.org/docs/latest-v20.x/api/tls.html, X509 certificate error codes. */
const UNTRUSTED = /^(UNABLE_TO_|SELF_SIGNED_|DEPTH_ZERO_|CERT_|ERR_TLS_CERT)/;

function tlsFaultOf(error: Error): string | undefined {
  const code = 'code' in error ? String(error.code) : '';
  if (code === 'ERR_TLS_CERT_ALTNAME_INVALID') return 'OTHER-NAME';
  if (UNTRUSTED.test(code)) return 'CERTIFICATE';
  return /^The server does not support SSL/.test(error.message) ? 'NO-TLS' : undefined;
}

export const isBusy = (error: unknown): boolean => codeOf(error)?.startsWith('SQLITE_BUSY') ?? false;

/** Whether the file is damaged or no database. */
export const isLost = (error: unknown): boolean =>
  LOST.some((start) => codeOf(error)?.startsWith(start) ?? false);

/** Whether a row was refused because of the others. Source: class 23 of the server's codes. */
export const isConflict = (error: unknown): boolean => /^(SQLITE_CONSTRAINT|23)/.test(codeOf(error) ?? '');

/** Throws what the database's fault means to a person; any other error as it is. Errors: ServiceError `store-failed`. */
export function throwStoreFault(error: unknown): never {
  const code = codeOf(error);
  const meaning = code && MEANINGS.find(([start]) => code.startsWith(start));
  if (!meaning) throw error;
  const [start, message, hint] = meaning;
  if (LOST.includes(start)) throw new LostStore('store-failed', message, { hint, cause: error });
  throw new ServiceError('store-failed', message, { hint, cause: error });
}
