/** A file and a server have the same tables, and both refuse to change what is said once and for all. */
import { join } from 'node:path';
import { sql } from 'kysely';
import { expect, it } from 'vitest';
import type { Engine } from '../../src/store/engine.js';
import { openEngine, openStore } from '../../src/store/open.js';
import { day, instant } from '../../src/units.js';
import { scratchFolder } from '../fixtures/program.js';
import { newPlace } from '../fixtures/storePlace.js';

const NOW = instant(Date.parse('2026-06-10T09:00:00Z'));

async function columnsOf(engine: Engine): Promise<string[]> {
  const tables = await engine.writing.introspection.getTables();
  return tables
    .flatMap(({ name, columns }) =>
      columns.map((column) => `${name}.${column.name} ${column.isNullable ? 'or null' : ''}`),
    )
    .sort();
}

it('the tables and columns are the same', async () => {
  const places = [join(scratchFolder(), 'stanchion.db'), await newPlace()];
  const [file, server] = await Promise.all(
    places.map(async (place) => {
      await (await openStore(place, NOW)).close();
      const engine = openEngine(place);
      const columns = await columnsOf(engine);
      await engine.close();
      return columns;
    }),
  );
  expect(server!.length).toBeGreaterThan(100);
  // A file numbers the facts by its key, which need not be given.
  expect(server).toEqual(file!.map((column) => column.replace('fact.seq or null', 'fact.seq ')));
});

it('no statement edits, deletes or empties facts and readings', async () => {
  const place = await newPlace();
  const store = await openStore(place, NOW);
  const body = { bikeId: 'b1', on: day('2025-06-01'), minutes: 10, ground: 'typical' as const, note: null };
  await store.write((tx) => tx.facts.add({ kind: 'hours', body, by: 'test', at: NOW }));
  await store.close();
  const engine = openEngine(place);
  for (const statement of [
    "UPDATE fact SET body = '{}'",
    'DELETE FROM fact',
    'DELETE FROM reading',
    'TRUNCATE fact CASCADE',
  ])
    await expect(sql.raw(statement).execute(engine.writing), statement).rejects.toThrow(/append-only/);
  expect(await engine.writing.selectFrom('fact').select('body').execute()).toEqual([
    { body: JSON.stringify(body) },
  ]);
  await engine.close();
});
