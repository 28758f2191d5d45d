import {
  closeSync,
  existsSync,
  openSync,
  readdirSync,
  readFileSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { join } from 'node:path';
import SQLite from 'better-sqlite3';
import { beforeEach, expect, test } from 'vitest';
import type { Store } from '../../src/ports/store.js';
import { backupStore, restoreStore } from '../../src/store/backup.js';
import { openStore } from '../../src/store/open.js';
import { instant } from '../../src/units.js';
import { scratchFolder } from '../fixtures/program.js';

const NOW = instant(Date.parse('2025-06-10T12:00:00Z'));
const sound = async (): Promise<string[]> => [];

let folder = '';
let path = '';
beforeEach(() => {
  folder = scratchFolder();
  path = join(folder, 'stanchion.db');
});

const addRider = (store: Store, by: string) =>
  store.write((tx) => tx.facts.add({ kind: 'rider', body: {}, by, at: NOW }));

async function ridersIn(file: string): Promise<string[]> {
  const store = await openStore(file, NOW);
  const facts = await store.read((tx) => tx.facts.list('rider'));
  await store.close();
  return facts.map((fact) => fact.recordedBy);
}

async function storeOf(...riders: string[]): Promise<void> {
  const store = await openStore(path, NOW);
  for (const rider of riders) await addRider(store, rider);
  await store.close();
}

test('a backup of a store in use is what it held at that moment, and nothing else is left beside it', async () => {
  const store = await openStore(path, NOW);
  await addRider(store, 'one');
  const backup = join(folder, 'backup.db');
  const bytes = await backupStore(path, backup, sound, NOW);
  await addRider(store, 'two');
  await store.close();
  expect(bytes).toBe(readFileSync(backup).length);
  expect(await ridersIn(backup)).toEqual(['one']);
  expect(readdirSync(folder).sort()).toEqual(['backup.db', 'stanchion.db']);
});

test('a backup that does not verify gets no name, and does not touch the one that was there', async () => {
  await storeOf('one');
  const backup = join(folder, 'backup.db');
  await backupStore(path, backup, sound, NOW);
  const before = readFileSync(backup);
  const unsound = async () => ['ride x differs from its facts'];
  await expect(backupStore(path, backup, unsound, NOW)).rejects.toMatchObject({
    code: 'refused',
    message: expect.stringContaining('ride x differs from its facts'),
  });
  expect(readFileSync(backup)).toEqual(before);
  expect(readdirSync(folder).sort()).toEqual(['backup.db', 'stanchion.db']);
});

test('a backup is written over by another of the same store, and nothing else is', async () => {
  await storeOf('one');
  const backup = join(folder, 'backup.db');
  await backupStore(path, backup, sound, NOW);
  await backupStore(path, backup, sound, NOW);
  const others = join(folder, 'other');
  await (await openStore(join(others, 'stanchion.db'), NOW)).close();
  await backupStore(join(others, 'stanchion.db'), join(folder, 'other.db'), sound, NOW);
  writeFileSync(join(folder, 'letter.txt'), 'Dear workshop');
  for (const name of ['other.db', 'letter.txt']) {
    const before = readFileSync(join(folder, name));
    await expect(backupStore(path, join(folder, name), sound, NOW)).rejects.toMatchObject({
      code: 'refused',
      message: expect.stringContaining('no backup of this store'),
    });
    expect(readFileSync(join(folder, name))).toEqual(before);
  }
});

test('a restore brings back what was, and keeps beside it what it replaced', async () => {
  await storeOf('one');
  const backup = join(folder, 'backup.db');
  await backupStore(path, backup, sound, NOW);
  await storeOf('two');
  const kept = await restoreStore(path, backup, sound, NOW);
  expect(await ridersIn(path)).toEqual(['one']);
  expect(kept).toMatch(/stanchion\.db\.replaced-20250610T120000Z/);
  expect(await ridersIn(kept!)).toEqual(['one', 'two']);
});

test('a restore into a folder without a store makes one', async () => {
  await storeOf('one');
  const elsewhere = join(scratchFolder(), 'stanchion.db');
  expect(await restoreStore(elsewhere, path, sound, NOW)).toBeNull();
  expect(await ridersIn(elsewhere)).toEqual(['one']);
});

test('a store in use is not replaced', async () => {
  await storeOf('one');
  const backup = join(folder, 'backup.db');
  await backupStore(path, backup, sound, NOW);
  const inUse = await openStore(path, NOW);
  await addRider(inUse, 'two');
  await expect(restoreStore(path, backup, sound, NOW)).rejects.toMatchObject({
    code: 'refused',
    hint: expect.stringContaining('Stop the server'),
  });
  await inUse.close();
  expect(await ridersIn(path)).toEqual(['one', 'two']);
});

test('what is cut, changed, no database, newer or unsound is refused, and the store stays as it was', async () => {
  await storeOf('one');
  const backup = join(folder, 'backup.db');
  await backupStore(path, backup, sound, NOW);
  const bytes = readFileSync(backup);
  const cut = join(folder, 'cut.db');
  writeFileSync(cut, bytes.subarray(0, bytes.length / 2));
  const text = join(folder, 'text.db');
  writeFileSync(text, 'not a database at all, only some text that somebody saved');
  const changed = join(folder, 'changed.db');
  writeFileSync(changed, bytes);
  const file = openSync(changed, 'r+');
  writeSync(file, Buffer.alloc(8192, 0xff), 0, 8192, 8192);
  closeSync(file);
  const newer = join(folder, 'newer.db');
  writeFileSync(newer, bytes);
  const database = new SQLite(newer);
  database.exec("INSERT INTO kysely_migration (name, timestamp) VALUES ('9999_newer', '')");
  database.close();
  const checked = async (store: Store): Promise<string[]> => {
    const { integrityFaults, foreignKeyFaults } = await store.integrity();
    return [...integrityFaults, ...foreignKeyFaults];
  };
  for (const [bad, code] of [
    [cut, 'refused'],
    [text, 'refused'],
    [changed, 'refused'],
    [newer, 'store-failed'],
    [join(folder, 'missing.db'), 'not-found'],
  ] as const)
    await expect(restoreStore(path, bad, checked, NOW), bad).rejects.toMatchObject({ code });
  await expect(restoreStore(path, backup, async () => ['a fault'], NOW)).rejects.toMatchObject({
    code: 'refused',
  });
  expect(await ridersIn(path)).toEqual(['one']);
  expect(readdirSync(folder).filter((name) => name.includes('.part') || name.includes('replaced'))).toEqual(
    [],
  );
});

test('a store that is broken is kept with its journal and replaced', async () => {
  await storeOf('one');
  const backup = join(folder, 'backup.db');
  await backupStore(path, backup, sound, NOW);
  writeFileSync(path, 'broken');
  writeFileSync(`${path}-wal`, 'its journal');
  const kept = await restoreStore(path, backup, sound, NOW);
  expect(await ridersIn(path)).toEqual(['one']);
  expect(readFileSync(kept!, 'utf8')).toBe('broken');
  expect(readFileSync(`${kept}-wal`, 'utf8')).toBe('its journal');
  expect(existsSync(`${path}-wal`)).toBe(false);
});

test('a store cannot be its own backup', async () => {
  await storeOf('one');
  await expect(backupStore(path, path, sound, NOW)).rejects.toMatchObject({ code: 'wrong-use' });
});
