/** Facts are added and never edited, whoever asks the database how. */
import { join } from 'node:path';
import SQLite from 'better-sqlite3';
import { sql } from 'kysely';
import { expect, test } from 'vitest';
import type { Store, Tx } from '../../src/ports/store.js';
import { openStore } from '../../src/store/open.js';
import { sqliteEngine } from '../../src/store/sqlite.js';
import { day, instant } from '../../src/units.js';
import { scratchFolder } from '../fixtures/program.js';

const AT = instant(Date.parse('2025-06-10T12:00:00Z'));
const ENTRY = { by: 'Ada Benchley', at: AT };
const hours = (minutes: number) => ({
  bikeId: 'b1',
  on: day('2025-06-01'),
  minutes,
  ground: 'typical' as const,
  note: null,
});

async function open(): Promise<{ store: Store; path: string }> {
  const path = join(scratchFolder(), 'stanchion.db');
  return { store: await openStore(path, AT), path };
}

const add = (tx: Tx, minutes: number) => tx.facts.add({ kind: 'hours', body: hours(minutes), ...ENTRY });

test('no statement edits, deletes or replaces a fact or a reading', async () => {
  const { store, path } = await open();
  const fact = await store.write((tx) => add(tx, 10));
  await store.write(async (tx) => {
    const file = await tx.files.add({
      sha256: 'x',
      bytes: 1,
      riderId: null,
      outcome: 'ride',
      code: null,
      reason: null,
    });
    await tx.readings.add(file.id, 0, { sensors: [], profile: '[]', readerVersion: 1 } as never);
  });
  await store.close();
  // The program's own connection: without its recursive_triggers REPLACE deletes and asks no trigger.
  const { writing: database, close } = sqliteEngine(path);
  const columns = 'workshop_id, id, entity_id, kind, subject_id, body, recorded_at_ms, since_ms, recorded_by';
  for (const statement of [
    `UPDATE fact SET body = '{}' WHERE id = '${fact.id}'`,
    `DELETE FROM fact WHERE id = '${fact.id}'`,
    `INSERT OR REPLACE INTO fact (${columns}) SELECT ${columns.replace('body', "'{}'")} FROM fact`,
    `REPLACE INTO fact (seq, ${columns}) SELECT seq, ${columns} FROM fact`,
    `INSERT INTO fact (${columns}) SELECT ${columns} FROM fact WHERE true ON CONFLICT (id) DO UPDATE SET body = '{}'`,
    "UPDATE reading SET body = '{}'",
    'DELETE FROM reading',
    'REPLACE INTO reading SELECT * FROM reading',
  ]) {
    await expect(sql.raw(statement).execute(database), statement).rejects.toThrow(/append-only/);
  }
  // Only to what its erasure says, and in nothing else.
  await sql`INSERT INTO erasure SELECT workshop_id, id, '{"kept":1}', NULL, 0 FROM fact`.execute(database);
  for (const change of [
    `body = '{}'`,
    `body = '{"kept":1}', why = 'x'`,
    `body = '{"kept":1}', recorded_by = 'x'`,
  ])
    await expect(sql.raw(`UPDATE fact SET ${change}`).execute(database), change).rejects.toThrow(
      /append-only/,
    );
  const stands = await database.selectFrom('fact').select('body').execute();
  expect(stands).toEqual([{ body: JSON.stringify(hours(10)) }]);
  await close();
});

test('a connection without that setting does walk past the trigger, so the check above can fail', async () => {
  const { store, path } = await open();
  await store.write((tx) => add(tx, 10));
  await store.close();
  const careless = new SQLite(path);
  careless.pragma('recursive_triggers = OFF');
  careless.exec('REPLACE INTO fact SELECT * FROM (SELECT * FROM fact)');
  expect(careless.prepare('SELECT count(*) AS n FROM fact').get()).toEqual({ n: 1 });
  careless.close();
});

test('a fact has one replacement; the second editor is told who was first, and when', async () => {
  const { store } = await open();
  const fact = await store.write((tx) => add(tx, 10));
  const replace = (by: string, minutes: number) =>
    store.write((tx) => tx.facts.replace(fact.id, { kind: 'hours', body: hours(minutes), by, at: AT }));
  const [first, second] = await Promise.allSettled([
    replace('Ada Benchley', 20),
    replace('Bo Spannerby', 30),
  ]);
  expect(first.status).toBe('fulfilled');
  expect(second).toMatchObject({
    status: 'rejected',
    reason: {
      code: 'already-replaced',
      message: expect.stringMatching(/^Ada Benchley replaced it at 2025-06-10T12:00:00Z/),
    },
  });
  const current = await store.read((tx) => tx.facts.current('hours', fact.entityId));
  expect(current?.body.minutes).toBe(20);
  await store.close();
});

test('a void fact is in force no longer, and its history stays', async () => {
  const { store } = await open();
  const fact = await store.write((tx) => add(tx, 10));
  await store.write((tx) => tx.facts.void(fact.id, 'Ada Benchley', AT, 'another bike'));
  const told = await store.read(async (tx) => ({
    list: await tx.facts.list('hours'),
    history: (await tx.facts.history('b1')).map(({ isVoid, why }) => [isVoid, why]),
    versions: (await tx.facts.versions('hours')).length,
  }));
  expect(told).toEqual({
    list: [],
    history: [
      [false, null],
      [true, 'another bike'],
    ],
    versions: 1,
  });
  await store.close();
});

test('a correction stands in the place of what it corrects, also within one moment', async () => {
  const { store } = await open();
  const minutes = await store.write(async (tx) => {
    const first = await add(tx, 1);
    await add(tx, 2);
    await tx.facts.replace(first.id, { kind: 'hours', body: hours(3), ...ENTRY });
    return (await tx.facts.list('hours')).map((fact) => fact.body.minutes);
  });
  expect(minutes).toEqual([3, 2]);
  await store.close();
});

test('history follows a fact that was moved to another subject', async () => {
  const { store } = await open();
  const bodies = await store.write(async (tx) => {
    const fact = await add(tx, 10);
    await tx.facts.replace(fact.id, { kind: 'hours', body: { ...hours(10), bikeId: 'b2' }, ...ENTRY });
    return Promise.all(['b1', 'b2', 'b3'].map(async (bike) => (await tx.facts.history(bike)).length));
  });
  expect(bodies).toEqual([2, 2, 0]);
  await store.close();
});
