/** Many workshops in one store, each seeing only itself. */

import { expect, it } from 'vitest';
import { readDocument } from '../../src/cli/importSchema.js';
import { importLedger } from '../../src/flow/carry/importLedger.js';
import { COPIED } from '../../src/ports/copies.js';
import type { Store } from '../../src/ports/store.js';
import { openStore } from '../../src/store/open.js';
import { instant } from '../../src/units.js';
import { allRides } from '../fixtures/allRides.js';
import { newPlace, serverUrl } from '../fixtures/storePlace.js';
import { DOCUMENT } from '../web/webWorld.js';

const NOW = instant(Date.parse('2026-06-10T09:00:00Z'));

async function fill(store: Store): Promise<void> {
  const read = readDocument(DOCUMENT);
  if (!('document' in read)) throw new Error(JSON.stringify(read));
  await store.write((tx) => importLedger(tx, read.document, { by: 'test', at: NOW }));
  await store.write((tx) => tx.accounts.add({ name: 'owner', passwordHash: 'x', role: 'owner' }));
}

const countsOf = (store: Store) =>
  store.read(async (tx) => {
    const counts: Record<string, number> = {};
    for (const of of COPIED) {
      counts[of] = 0;
      for await (const _ of tx.copies.rows(of)) counts[of] += 1;
    }
    counts.ride = (await allRides(tx)).length;
    counts.account = (await tx.accounts.list()).length;
    return counts;
  });

it('the same names in two workshops are two riders, two forks and two accounts', async () => {
  const place = await newPlace();
  const [one, two] = [
    await openStore(place, NOW, { workshop: 'oak' }),
    await openStore(place, NOW, { workshop: 'elm' }),
  ];
  await fill(one);
  const counted = await countsOf(one);
  expect(counted.fact).toBeGreaterThan(10);
  const empty = await countsOf(two);
  expect(Object.values(empty).every((count) => count === 0)).toBe(true);

  await fill(two);
  expect(await countsOf(two)).toEqual(counted);
  expect(await countsOf(one)).toEqual(counted);
  const [ofOne, ofTwo] = await Promise.all(
    [one, two].map((store) => store.read((tx) => tx.handles.all('unit'))),
  );
  expect([...ofOne!.values()].sort()).toEqual([...ofTwo!.values()].sort());
  expect([...ofOne!.keys()].filter((id) => ofTwo!.has(id))).toEqual([]);

  // What one knows by its id is nothing to the other.
  const [unitId] = ofOne!.keys();
  const [fact] = await one.read((tx) => tx.facts.list('unit', { subject: unitId! }));
  expect(fact).toBeDefined();
  await two.read(async (tx) => {
    expect(await tx.facts.find(fact!.id)).toBeUndefined();
    expect(await tx.facts.current('unit', unitId!)).toBeUndefined();
    expect(await tx.standings.listOf(unitId!)).toEqual([]);
  });
  await expect(two.write((tx) => tx.facts.void(fact!.id, 'x', NOW, 'x'))).rejects.toMatchObject({
    code: 'not-found',
  });
  await one.close();
  await two.close();
});

it('a workshop that is not there is not made by whoever mistypes its name', async () => {
  const place = await newPlace();
  await (await openStore(place, NOW, { workshop: 'oak' })).close();
  await expect(openStore(place, NOW, { workshop: 'aok', make: false })).rejects.toMatchObject({
    code: 'refused',
  });
});

it.runIf(serverUrl !== null)('one workshop’s writer does not wait for another’s', async () => {
  const place = await newPlace();
  const one = await openStore(place, NOW, { workshop: 'oak' });
  const two = await openStore(place, NOW, { workshop: 'elm' });
  const order: string[] = [];
  await one.write(async () => {
    await two.write(async () => void order.push('two'));
    order.push('one');
  });
  expect(order).toEqual(['two', 'one']);
  await one.close();
  await two.close();
});
