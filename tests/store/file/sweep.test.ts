import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { pathToFileURL } from 'node:url';
import SQLite from 'better-sqlite3';
import { expect, it } from 'vitest';
import { sweepAside } from '../../../src/store/file/sweep.js';
import { whileSwept } from '../../../src/store/file/sweeping.js';
import { openStore } from '../../../src/store/open.js';
import { instant } from '../../../src/units.js';
import { BUILT, scratchFolder } from '../../fixtures/program.js';

const SCRIPT = pathToFileURL(join(BUILT, 'workers/sweep.js'));
const NAME = 'Somebody who is to be forgotten';
const ROWS = 100_000;
const LONGER_THAN_A_WRITER_WAITS_MS = 11_000;

/** Some 60 MB, of which a name was deleted. */
function filled(): string {
  const path = join(scratchFolder(), 'stanchion.db');
  const database = new SQLite(path);
  database.pragma('journal_mode = WAL');
  database.exec('create table one (id integer primary key, body text)');
  const add = database.prepare('insert into one (body) values (?)');
  database.transaction(() => {
    for (let i = 0; i < ROWS; i += 1) add.run(`${i % 1000 === 7 ? NAME : ''} ${'x'.repeat(600)} ${i}`);
  })();
  database.prepare('delete from one where body like ?').run(`${NAME}%`);
  database.close();
  return path;
}

const rowsIn = (path: string): number => {
  const database = new SQLite(path, { readonly: true });
  const count = database.prepare('select count(*) from one').pluck().get() as number;
  database.close();
  return count;
};

it('leaves nothing of what was deleted, and this process goes on meanwhile', async () => {
  const path = filled();
  expect(readFileSync(path).includes(NAME)).toBe(true);
  let turns = 0;
  const timer = setInterval(() => {
    turns += 1;
  }, 1);
  await sweepAside(path, SCRIPT, new AbortController().signal);
  clearInterval(timer);
  // None at all, had it been swept in this process: that is one long statement.
  expect(turns).toBeGreaterThan(3);
  expect(readFileSync(path).includes(NAME)).toBe(false);
  expect(rowsIn(path)).toBe(ROWS - ROWS / 1000);
  expect(existsSync(`${path}.sweeping`)).toBe(false);
});

it('lets who writes wait for as long as a file is swept, and give up once it is not', async () => {
  const path = join(scratchFolder(), 'stanchion.db');
  const store = await openStore(path, instant(0));
  const other = new SQLite(path);
  other.exec('begin immediate');
  let isLocked = true;
  const write = store.write(async () => isLocked);
  const swept = whileSwept(path, async () => {
    await wait(LONGER_THAN_A_WRITER_WAITS_MS);
    isLocked = false;
    other.exec('commit');
  });
  expect(await write).toBe(false);
  await swept;
  other.exec('begin immediate');
  await expect(store.write(async () => true)).rejects.toMatchObject({ code: 'store-failed' });
  other.exec('commit');
  other.close();
  await store.close();
}, 60_000);

it('is broken off when the program ends, and leaves the file as it was', async () => {
  const path = filled();
  const end = new AbortController();
  const swept = sweepAside(path, SCRIPT, end.signal);
  const failed = expect(swept).rejects.toMatchObject({ code: 'store-failed' });
  await wait(150);
  end.abort();
  const began = performance.now();
  await failed;
  expect(performance.now() - began).toBeLessThan(1000);
  expect(rowsIn(path)).toBe(ROWS - ROWS / 1000);
});

it('says in words that it could not be done', async () => {
  const path = join(scratchFolder(), 'no.db');
  writeFileSync(path, 'no database');
  await expect(sweepAside(path, SCRIPT, new AbortController().signal)).rejects.toMatchObject({
    code: 'store-failed',
    message: 'What was deleted is still in the database file.',
  });
});
