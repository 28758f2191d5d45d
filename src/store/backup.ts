import { randomBytes } from 'node:crypto';
import {
  closeSync,
  existsSync,
  fsyncSync,
  linkSync,
  openSync,
  readSync,
  renameSync,
  rmSync,
  statSync,
} from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import SQLite from 'better-sqlite3';
import { ServiceError } from '../errors.js';
import type { Store } from '../ports/store.js';
import type { Instant } from '../units.js';
import { whyNot } from '../whyNot.js';
import { openStore } from './open.js';
import { isLost, throwStoreFault } from './storeFault.js';

/** Says what is wrong with a store, nothing where it is sound. */
export type Verify = (store: Store) => Promise<readonly string[]>;

/**
 * Copies the store at `path` to a file, also while it is in use, and verifies the copy before it gets its name.
 * Returns its size in bytes. Errors: `disk-failed`, `store-failed`, `refused` where the copy is not sound.
 * Source: sqlite.org/lang_vacuum.html: VACUUM INTO reads one moment's state; it does not fsync.
 */
export async function backupStore(path: string, file: string, verify: Verify, now: Instant): Promise<number> {
  if (resolve(path) === resolve(file))
    throw new ServiceError('wrong-use', 'The backup must be another file than the store.');
  if (existsSync(file) && statSync(file).isDirectory())
    throw new ServiceError('wrong-use', `${file} is a folder: name a file, not a folder.`, {
      hint: `For instance: stanchion backup ${join(file, 'stanchion.db')}`,
    });
  if (existsSync(file)) refuseOther(path, file);
  const part = partBeside(file);
  const letGo = removedAtExit(part);
  try {
    copyStore(path, part);
    await verifyAt(part, verify, now);
    makeOneFile(part);
    renameSync(part, file);
    syncFile(dirname(resolve(file)));
    return statSync(file).size;
  } catch (error) {
    if (isLost(error)) throwStoreFault(error);
    throw asServiceError(error, `The backup ${file} could not be made; nothing was changed.`, [path, file]);
  } finally {
    letGo();
  }
}

/**
 * Puts a backup in the place of the store at `path`, once it is verified, and keeps what was there beside it.
 * Returns where that lies, null where there was none.
 * Errors: `refused` where the backup is not sound or the store is in use, `store-failed` where a newer program made it.
 */
export async function restoreStore(
  path: string,
  file: string,
  verify: Verify,
  now: Instant,
): Promise<string | null> {
  if (!existsSync(file)) throw new ServiceError('not-found', `There is no file ${file}.`);
  if (existsSync(path)) closeAlone(path);
  const part = partBeside(path);
  const letGo = removedAtExit(part);
  try {
    copyDatabase(file, part, true);
    await verifyAt(part, verify, now);
    makeOneFile(part);
    const aside = existsSync(path) ? setAside(path, now) : null;
    renameSync(part, path);
    syncFile(dirname(resolve(path)));
    return aside;
  } catch (error) {
    throw asServiceError(error, `${file} could not be restored; the store is as it was.`, [path]);
  } finally {
    letGo();
  }
}

/** A copy that is half made goes with the process that makes it. Returns what removes it before. */
function removedAtExit(part: string): () => void {
  const remove = (): void => removeDatabase(part);
  process.once('exit', remove);
  return () => {
    process.removeListener('exit', remove);
    remove();
  };
}

/** Deletes a store that another was put in the place of. */
export const removeReplaced = (aside: string): void => removeDatabase(aside);

/** Only a backup of this store is written over. Errors: `refused`. */
function refuseOther(path: string, file: string): void {
  const [own, other] = [keysOf(path), isDatabase(file) ? keysOf(file) : []];
  if (other.some((key) => own.includes(key))) return;
  throw new ServiceError('refused', `${file} is there, and is no backup of this store.`, {
    hint: 'Name another file, or move that one away. It is as it was.',
  });
}

/** The keys of the workshops in a store, which no two stores share; none where the file is no sound store. */
function keysOf(path: string): string[] {
  try {
    const database = new SQLite(path, { readonly: true, fileMustExist: true });
    try {
      return database.prepare('SELECT id FROM workshop').pluck().all() as string[];
    } finally {
      database.close();
    }
  } catch (error) {
    if (error instanceof SQLite.SqliteError) return [];
    throw error;
  }
}

const partBeside = (file: string): string =>
  join(dirname(resolve(file)), `.${basename(file)}.${randomBytes(4).toString('hex')}.part`);

function copyDatabase(from: string, to: string, readonly: boolean): void {
  // Closing a connection that may write takes the journal's files away; a backup may lie where nothing can be written.
  const database = new SQLite(from, { readonly, fileMustExist: true });
  try {
    database.prepare('VACUUM INTO ?').run(to);
  } finally {
    database.close();
  }
}

/** Errors: LostStore where it is the store itself that is damaged. */
function copyStore(from: string, to: string): void {
  try {
    copyDatabase(from, to, false);
  } catch (error) {
    if (isLost(error)) throwStoreFault(error);
    throw error;
  }
}

async function verifyAt(part: string, verify: Verify, now: Instant): Promise<void> {
  const store = await openStore(part, now);
  try {
    const faults = await verify(store);
    if (faults.length === 0) return;
    throw new ServiceError('refused', `The copy is not sound: ${faults.slice(0, 5).join('; ')}.`, {
      hint: 'stanchion check says more of the store itself. Is there another backup?',
    });
  } finally {
    await store.close();
  }
}

/** Makes of a store that was opened one file again, with no journal beside it, and puts it on disk. */
function makeOneFile(part: string): void {
  const database = new SQLite(part);
  try {
    database.pragma('journal_mode = DELETE');
  } finally {
    database.close();
  }
  syncFile(part);
}

/** Keeps the store under another name while its own goes on to point at it, so that there is one at every moment. */
function setAside(path: string, now: Instant): string {
  closeAlone(path);
  const stamp = new Date(now).toISOString().replace(/[-:]|\.\d+/g, '');
  const aside = `${path}.replaced-${stamp}-${randomBytes(2).toString('hex')}`;
  linkSync(path, aside);
  // A journal that was left belongs to the old store and must not be read into the new one.
  for (const end of ['-wal', '-shm']) if (existsSync(path + end)) renameSync(path + end, aside + end);
  return aside;
}

/** Errors: `refused` while another program has the store open. A broken one cannot be opened and is nobody's. */
export function closeAlone(path: string, then = 'restore'): void {
  if (!isDatabase(path)) return;
  try {
    const database = new SQLite(path, { timeout: 1000 });
    try {
      database.pragma('locking_mode = EXCLUSIVE');
      database.exec('BEGIN IMMEDIATE; COMMIT');
      database.pragma('wal_checkpoint(TRUNCATE)');
    } finally {
      database.close();
    }
  } catch (cause) {
    const isBusy = cause instanceof SQLite.SqliteError && cause.code.startsWith('SQLITE_BUSY');
    if (!isBusy) return;
    throw new ServiceError('refused', 'The store is in use.', {
      hint: `Stop the server and every other command first, then ${then}.`,
      cause,
    });
  }
}

/** Source: sqlite.org/fileformat.html 1.3.1. */
const MAGIC = 'SQLite format 3\0';

function isDatabase(path: string): boolean {
  const head = Buffer.alloc(MAGIC.length);
  const file = openSync(path, 'r');
  try {
    readSync(file, head, 0, MAGIC.length, 0);
  } finally {
    closeSync(file);
  }
  return head.toString('latin1') === MAGIC;
}

function syncFile(path: string): void {
  const file = openSync(path, 'r');
  try {
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
}

function removeDatabase(path: string): void {
  // What may not be looked at could not be made either.
  for (const end of ['', '-wal', '-shm', '-journal'])
    if (existsSync(path + end)) rmSync(path + end, { force: true });
}

function asServiceError(error: unknown, message: string, paths: readonly string[]): ServiceError {
  if (error instanceof ServiceError) return error;
  const isDamaged = error instanceof SQLite.SqliteError && /^SQLITE_(NOTADB|CORRUPT)/.test(error.code);
  if (isDamaged)
    return new ServiceError('refused', message, { hint: 'The file is no sound database.', cause: error });
  const why = [...paths]
    .reverse()
    .map((path) => whyNot(path, error))
    .find((of) => of !== null);
  return new ServiceError('disk-failed', why === undefined ? message : `${message} ${why.message}`, {
    hint: why?.hint ?? 'Is the disk still connected?',
    cause: error,
  });
}
