import { join } from 'node:path';
import SQLite from 'better-sqlite3';
import { expect, it, onTestFinished } from 'vitest';
import { ServiceError } from '../../src/errors.js';
import { openStore } from '../../src/store/open.js';
import { throwStoreFault } from '../../src/store/storeFault.js';
import { instant } from '../../src/units.js';
import { scratchFolder } from '../fixtures/program.js';

const thrownFor = (error: unknown): unknown => {
  try {
    return throwStoreFault(error);
  } catch (thrown) {
    return thrown;
  }
};

it.each([
  ['SQLITE_BUSY', /another command/i],
  ['SQLITE_BUSY_SNAPSHOT', /another command/i],
  ['SQLITE_FULL', /make room/i],
  ['SQLITE_READONLY_DIRECTORY', /mounted read-only/],
  ['SQLITE_IOERR_FSYNC', /still connected/],
  ['SQLITE_CORRUPT', /stanchion restore/],
])('%s is told in words that a person can act on', (code, hint) => {
  const cause = new SQLite.SqliteError('x', code);
  const thrown = thrownFor(cause);
  expect(thrown).toBeInstanceOf(ServiceError);
  expect(thrown).toMatchObject({ code: 'store-failed', permanent: false, cause });
  expect((thrown as ServiceError).hint).toMatch(hint);
});

it.each([
  ['SELF_SIGNED_CERT_IN_CHAIN', 'self-signed certificate', /trusts/, /sslrootcert=FILE/],
  ['DEPTH_ZERO_SELF_SIGNED_CERT', 'self-signed certificate', /trusts/, /sslrootcert=FILE/],
  ['CERT_HAS_EXPIRED', 'certificate has expired', /trusts/, /sslrootcert=FILE/],
  ['ERR_TLS_CERT_ALTNAME_INVALID', 'Hostname/IP does not match', /another name/, /name or address in it/],
  [undefined, 'The server does not support SSL connections', /does not encrypt/, /Switch ssl on/],
])('a connection that ends with %s is told', (code, message, says, hint) => {
  const thrown = thrownFor(Object.assign(new Error(message), code === undefined ? {} : { code }));
  expect(thrown).toMatchObject({
    code: 'store-failed',
    permanent: false,
    message: expect.stringMatching(says),
    hint: expect.stringMatching(hint),
  });
});

it('leaves alone what is a fault of this program', () => {
  const error = new SQLite.SqliteError('UNIQUE constraint failed', 'SQLITE_CONSTRAINT_UNIQUE');
  expect(thrownFor(error)).toBe(error);
  const other = new TypeError('x');
  expect(thrownFor(other)).toBe(other);
});

it('a write waits for a lock that another holds, and everything else goes on meanwhile', async () => {
  const path = join(scratchFolder(), 'stanchion.db');
  const store = await openStore(path, instant(0));
  const other = new SQLite(path);
  onTestFinished(async () => {
    other.close();
    await store.close();
  });
  other.exec('begin exclusive');
  let isDone = false;
  const written = store
    .write((tx) => tx.accounts.add({ name: 'a', passwordHash: 'x', role: 'owner' }))
    .finally(() => {
      isDone = true;
    });
  let turns = 0;
  const until = performance.now() + 400;
  while (performance.now() < until) {
    expect(await store.read((tx) => tx.accounts.list())).toHaveLength(0);
    await new Promise((resolve) => setTimeout(resolve, 5));
    turns += 1;
  }
  expect(isDone).toBe(false);
  // Waiting inside the database would let none of them through.
  expect(turns).toBeGreaterThan(2);
  other.exec('rollback');
  await written;
  expect(await store.read((tx) => tx.accounts.list())).toHaveLength(1);
});
