import { mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { pathToFileURL } from 'node:url';
import SQLite from 'better-sqlite3';
import { beforeEach, expect, it } from 'vitest';
import { backupFolder } from '../../src/store/backupFolder.js';
import { openStore } from '../../src/store/open.js';
import { type Day, instant } from '../../src/units.js';
import { BUILT, scratchFolder } from '../fixtures/program.js';

const NOW = instant(Date.parse('2025-06-10T12:00:00Z'));
const DAY = '2025-06-10' as Day;
const THREAD = pathToFileURL(join(BUILT, 'workers/backUp.js'));

let data = '';
let path = '';
let folder = '';
beforeEach(() => {
  data = scratchFolder();
  path = join(data, 'stanchion.db');
  folder = join(data, 'backups');
});

it('makes a sound copy of a store in use, and nobody else may look into the folder', async () => {
  const store = await openStore(path, NOW);
  await store.write((tx) => tx.facts.add({ kind: 'rider', body: {}, by: 'one', at: NOW }));
  const backups = backupFolder(folder, path, THREAD);
  expect(await backups.list()).toEqual([]);
  await backups.make(DAY, NOW);
  await store.close();
  expect(await backups.list()).toEqual([DAY]);
  expect(readdirSync(folder)).toEqual(['stanchion-2025-06-10.db']);
  expect(statSync(folder).mode & 0o077).toBe(0);
  const copy = new SQLite(join(folder, 'stanchion-2025-06-10.db'), { readonly: true });
  expect(copy.prepare('select recorded_by from fact').pluck().all()).toEqual(['one']);
  copy.close();
});

it('takes away what a killed program had begun to copy, and leaves what is not its own', async () => {
  await (await openStore(path, NOW)).close();
  mkdirSync(folder);
  for (const name of [
    '.stanchion-2025-06-09.db.0a1b2c3d.part',
    '.stanchion-2025-06-09.db.0a1b2c3d.part-wal',
    'mine',
  ])
    writeFileSync(join(folder, name), 'x');
  await backupFolder(folder, path, THREAD).make(DAY, NOW);
  expect(readdirSync(folder).sort()).toEqual(['mine', 'stanchion-2025-06-10.db']);
});

it('of a store that is not sound none gets its name, and the reason comes in words', async () => {
  await (await openStore(path, NOW)).close();
  const database = new SQLite(path);
  database.pragma('foreign_keys = OFF');
  database.exec("insert into session values ('w', 't', 'nobody', 0, 0, 0)");
  database.close();
  const backups = backupFolder(folder, path, THREAD);
  await expect(backups.make(DAY, NOW)).rejects.toMatchObject({
    code: 'refused',
    message: expect.stringContaining('The copy is not sound'),
    hint: expect.stringContaining('stanchion check'),
  });
  expect(readdirSync(folder)).toEqual([]);
});

it('says what is wrong with a folder that cannot be used', async () => {
  await (await openStore(path, NOW)).close();
  writeFileSync(folder, 'a file in its place');
  await expect(backupFolder(folder, path, THREAD).make(DAY, NOW)).rejects.toMatchObject({
    code: 'disk-failed',
  });
});

it('removes one of a day, and one that is not there is no fault', async () => {
  mkdirSync(folder);
  writeFileSync(join(folder, 'stanchion-2025-06-10.db'), 'x');
  const backups = backupFolder(folder, path, THREAD);
  await backups.remove(DAY);
  await backups.remove(DAY);
  expect(await backups.list()).toEqual([]);
});

it('asked to stop, it gives up the one it makes and leaves nothing of it', async () => {
  const store = await openStore(path, NOW);
  await store.close();
  const backups = backupFolder(folder, path, THREAD);
  const making = backups.make(DAY, NOW);
  await backups.stop();
  await making;
  const left = readdirSync(data).includes('backups') ? readdirSync(folder) : [];
  expect(left.filter((name) => name.endsWith('.part'))).toEqual([]);
  await backups.make(DAY, NOW);
  expect((await backups.list()).length).toBeLessThanOrEqual(1);
  rmSync(folder, { recursive: true, force: true });
  expect(readFileSync(path).length).toBeGreaterThan(0);
});

it('asked to stop, it breaks off one that hangs', async () => {
  await (await openStore(path, NOW)).close();
  const script = join(data, 'hangs.mjs');
  writeFileSync(script, 'for (;;);');
  const backups = backupFolder(folder, path, pathToFileURL(script));
  const making = backups.make(DAY, NOW);
  await wait(300);
  const asked = performance.now();
  await backups.stop();
  await making;
  expect(performance.now() - asked).toBeLessThan(1000);
  expect(await backups.list()).toEqual([]);
});
