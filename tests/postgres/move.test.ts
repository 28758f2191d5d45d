/** A store goes from a file to a server and back without losing or changing a row. */

import { join } from 'node:path';
import { expect, it } from 'vitest';
import { verifyCopy } from '../../src/flow/carry/verifyCopy.js';
import type { Store } from '../../src/ports/store.js';
import { moveStore, ORDERS } from '../../src/store/move.js';
import { openEngine, openStore } from '../../src/store/open.js';
import { day, instant } from '../../src/units.js';
import { allRides } from '../fixtures/allRides.js';
import { scratchFolder } from '../fixtures/program.js';
import { newPlace } from '../fixtures/storePlace.js';
import { takeDemo } from '../samples/takeDemo.js';

const NOW = instant(Date.parse('2026-06-10T09:00:00Z'));
const TODAY = day('2026-06-10');
const verify = (store: Store) => verifyCopy(store, NOW);

/** What the program reads of the ledger: every unit's hours and states, every ride, every notice and mail. */
async function readAll(place: string) {
  const store = await openStore(place, NOW, { make: false });
  const read = await store.read(async (tx) => ({
    standings: await tx.standings.list(),
    rides: await allRides(tx),
    notices: await tx.notices.list(),
    mails: await tx.mails.list(),
    contacts: await tx.contacts.list(),
    lastFact: await tx.facts.lastSeq(),
  }));
  await store.close();
  return read;
}

it('moved there and back, the demo’s season is the same to the last row', async () => {
  const folder = scratchFolder();
  const from = join(folder, 'from.db');
  await takeDemo(from, TODAY, NOW);
  const there = await newPlace();
  const rows = await moveStore(from, there, verify);
  expect(rows.fact).toBeGreaterThan(100);
  expect(rows.reading).toBeGreaterThan(50);
  const back = join(folder, 'back.db');
  expect(await moveStore(there, back, verify)).toEqual(rows);
  const before = await readAll(from);
  expect(before.rides.length).toBeGreaterThan(50);
  expect(await readAll(there)).toEqual(before);
  expect(await readAll(back)).toEqual(before);

  // Facts go on after the last one.
  const store = await openStore(there, NOW);
  const fact = await store.write((tx) =>
    tx.facts.add({ kind: 'race', body: { fleetId: 'x' } as never, by: 'test', at: NOW }),
  );
  expect(fact.seq).toBeGreaterThan(before.lastFact);
  await store.close();
  await expect(moveStore(from, there, verify)).rejects.toMatchObject({ code: 'refused' });
}, 240_000);

it('a copy that does not verify is not kept', async () => {
  const from = join(scratchFolder(), 'from.db');
  await (await openStore(from, NOW)).close();
  const there = await newPlace();
  await expect(moveStore(from, there, async () => ['made up'])).rejects.toMatchObject({ code: 'refused' });
  expect(await moveStore(from, there, async () => [])).toMatchObject({ workshop: 1, fact: 0 });
});

it('no table is left behind but what processes say of themselves', async () => {
  const place = await newPlace();
  await (await openStore(place, NOW)).close();
  const engine = openEngine(place);
  const tables = await engine.writing.introspection.getTables();
  expect(tables.map((table) => table.name).sort()).toEqual(
    [...Object.keys(ORDERS), 'heartbeat', 'clock_word'].sort(),
  );
  await engine.close();
});
