import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { pathToFileURL } from 'node:url';
import SQLite from 'better-sqlite3';
import { expect, it } from 'vitest';
import { sweepAside } from '../../src/store/sweep.js';
import { BUILT, scratchFolder } from '../fixtures/program.js';

const SCRIPT = pathToFileURL(join(BUILT, 'workers/sweep.js'));
const NAME = 'Somebody who is to be forgotten';
const ROWS = 100_000;

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

it('leaves nothing of what was deleted, and holds up nobody meanwhile', async () => {
  const path = filled();
  expect(readFileSync(path).includes(NAME)).toBe(true);
  let [longestMs, last] = [0, performance.now()];
  const timer = setInterval(() => {
    const now = performance.now();
    longestMs = Math.max(longestMs, now - last);
    last = now;
  }, 5);
  await sweepAside(path, SCRIPT, new AbortController().signal);
  clearInterval(timer);
  console.info(`while a file was swept, nothing waited longer than ${Math.round(longestMs)} ms`);
  expect(longestMs).toBeLessThan(250);
  expect(readFileSync(path).includes(NAME)).toBe(false);
  expect(rowsIn(path)).toBe(ROWS - ROWS / 1000);
});

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
