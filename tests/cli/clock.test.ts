/** A clock that jumped, as a command tells it and agrees to it. */
import { join } from 'node:path';
import SQLite from 'better-sqlite3';
import { expect, it } from 'vitest';
import { scratchFolder } from '../fixtures/program.js';
import { runHere } from '../fixtures/runHere.js';

it('is told, held against reminders, and believed once somebody agrees', async () => {
  const data = scratchFolder();
  const run = (...args: string[]) => runHere([...args, '--data', data, '--json']);
  process.env.STANCHION_PASSWORD = 'a long password of the test';
  expect((await run('setup')).status).toBe(0);
  expect((await run('clock')).rows).toMatchObject([{ doubt: null }]);
  const store = new SQLite(join(data, 'stanchion.db'));
  const { id } = store.prepare('select id from workshop').get() as { id: string };
  store
    .prepare('insert into clock_word values (?, ?, null, null, null)')
    .run(id, Date.parse('2020-01-01T00:00:00Z'));
  store.close();
  expect(await run('clock')).toMatchObject({
    status: 1,
    rows: [{ doubt: 'ahead', lastBelieved: '2020-01-01T00:00:00Z' }],
  });
  expect((await run('clock', '--now', '2026-01-01T00:00:00Z')).rows).toMatchObject([{ doubt: null }]);
  expect(await run('clock', '--agree')).toMatchObject({ status: 0, rows: [{ doubt: null }] });
  expect((await run('clock')).status).toBe(0);
});
