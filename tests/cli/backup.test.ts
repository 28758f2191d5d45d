/** Backups as commands: the copy is checked as the store is. */
import { existsSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import SQLite from 'better-sqlite3';
import { beforeEach, expect, it } from 'vitest';
import { scratchFolder } from '../fixtures/program.js';
import { runHere } from '../fixtures/runHere.js';

const NOW = '2025-06-18T12:00:00Z';
let data = '';
let backup = '';
const run = (...args: string[]) => runHere([...args, '--data', data, '--now', NOW]);

beforeEach(async () => {
  data = scratchFolder();
  backup = join(data, 'backup.db');
  const file = join(data, 'setup.json');
  writeFileSync(
    file,
    JSON.stringify({
      workshop: { id: 'w1', name: 'Test bench', timeZone: 'Europe/Lisbon', openDays: ['mon'] },
      bikes: [{ id: 'b1', name: 'Bike one', type: 'trail' }],
      units: [{ tag: 'F-1', unitKind: 'fork', history: 'new' }],
      fittings: [{ unit: 'F-1', bike: 'b1', from: '2025-01-01' }],
    }),
  );
  expect((await run('import', file)).status).toBe(0);
  await run('hours', 'b1', '--on', '2025-06-01', '--minutes', '60');
});

const hours = async (): Promise<unknown> => (await run('due', '--json')).rows[0]!.movingHoursSince;

it('goes back to the hours of the backup, and keeps what it replaced', async () => {
  const made = await run('backup', backup, '--json');
  expect(made.rows).toEqual([{ did: 'backup', ids: [], problems: [], bytes: expect.any(Number) }]);
  await run('hours', 'b1', '--on', '2025-06-02', '--minutes', '60');
  expect(await hours()).toBe(2);
  const restored = await run('restore', backup, '--json');
  expect(restored.rows).toMatchObject([
    { did: 'restore', problems: [], kept: expect.stringContaining('replaced') },
  ]);
  expect(existsSync(String(restored.rows[0]!.kept))).toBe(true);
  expect(await hours()).toBe(1);
  expect((await run('check', '--json')).rows).toMatchObject([{ ok: true }]);
});

it('deletes what it replaced where that is told, and not by itself where nobody can be asked', async () => {
  await run('backup', backup);
  expect((await run('restore', backup)).stdout).toMatch(/What was there is kept as/);
  const before = readdirSync(data).filter((name) => name.includes('.replaced-'));
  expect(before).toHaveLength(1);
  const cleaned = await run('restore', backup, '--clean', '--json');
  expect(cleaned.rows).toMatchObject([{ did: 'restore', kept: null }]);
  expect(readdirSync(data).filter((name) => name.includes('.replaced-'))).toEqual(before);
  expect((await run('check', '--json')).rows).toMatchObject([{ ok: true }]);
});

it('brings the secret along that lies with the backup, and leaves one that is there', async () => {
  await run('backup', backup);
  const secret = `${'0f'.repeat(32)}\n`;
  writeFileSync(join(data, 'secret'), secret);
  const second = scratchFolder();
  const restored = await runHere(['restore', backup, '--json', '--data', second]);
  expect(restored.rows).toMatchObject([{ kept: null, secret: join(data, 'secret') }]);
  expect(readFileSync(join(second, 'secret'), 'utf8')).toBe(secret);
  expect(statSync(join(second, 'secret')).mode & 0o077).toBe(0);
  writeFileSync(join(second, 'secret'), `${'1e'.repeat(32)}\n`);
  const again = await runHere(['restore', backup, '--data', second]);
  expect(again.stdout).toContain('bring the file secret of the old data folder');
  expect(readFileSync(join(second, 'secret'), 'utf8')).toBe(`${'1e'.repeat(32)}\n`);
});

it('does not restore a ledger whose hours are not those of its facts', async () => {
  await run('backup', backup);
  const database = new SQLite(backup);
  database.exec("UPDATE ride SET body = json_set(body, '$.movingS', 7200)");
  database.close();
  const refused = await run('restore', backup);
  expect([refused.status, refused.stderr]).toEqual([
    1,
    expect.stringMatching(/not sound: ride .* differs from its facts/),
  ]);
  expect(await hours()).toBe(1);
});

it('wants a file, not a folder', async () => {
  const { status, stderr } = await run('backup', data);
  expect([status, stderr]).toEqual([2, expect.stringMatching(/is a folder: name a file, not a folder/)]);
});

it('says what is missing', async () => {
  expect((await run('restore', join(data, 'nothing.db'))).status).toBe(1);
  expect((await run('backup', join(data, 'no', 'folder', 'backup.db'))).status).toBe(3);
});
