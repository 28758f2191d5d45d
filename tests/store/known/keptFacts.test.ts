import { join } from 'node:path';
import { expect, test } from 'vitest';
import type { Store } from '../../../src/ports/store.js';
import { KeptFacts, TxFacts } from '../../../src/store/known/keptFacts.js';
import { openStore } from '../../../src/store/open.js';
import { instant } from '../../../src/units.js';
import { scratchFolder } from '../../fixtures/program.js';

const NOW = instant(Date.UTC(2025, 5, 18, 12));
const ENTRY = { by: 'bench', at: NOW };

const addFleet = (store: Store, handle: string): Promise<void> =>
  store.write(async (tx) => {
    await tx.facts.add({ kind: 'fleet', body: { handle, name: handle }, ...ENTRY });
    await named(tx);
  });
const named = async (tx: Parameters<Parameters<Store['write']>[0]>[0]): Promise<string[]> =>
  (await tx.facts.list('fleet')).map(({ body }) => body.name);
const made = (store: Store): Promise<string> =>
  store.write((tx) => tx.facts.once('fleets', async () => (await named(tx)).join()));

test('facts and what is made of them are those that stand, whoever wrote them', async () => {
  const path = join(scratchFolder(), 'stanchion.db');
  const [own, other] = [await openStore(path, NOW), await openStore(path, NOW)];
  expect([await own.write(named), await made(own)]).toEqual([[], '']);
  await addFleet(own, 'a');
  expect([await own.write(named), await made(own), await made(other)]).toEqual([['a'], 'a', 'a']);
  await addFleet(other, 'b');
  expect([await own.write(named), await made(own)]).toEqual([['a', 'b'], 'a,b']);
  expect(await own.write((tx) => tx.facts.lastSeq())).toBe(2);
  await own.close();
  await other.close();
});

test('what a transaction wrote and took back is known to nobody', async () => {
  const store = await openStore(join(scratchFolder(), 'stanchion.db'), NOW);
  await addFleet(store, 'a');
  const failed = store.write(async (tx) => {
    expect(await named(tx)).toEqual(['a']);
    await tx.facts.add({ kind: 'fleet', body: { handle: 'b', name: 'b' }, ...ENTRY });
    expect([await named(tx), await tx.facts.lastSeq()]).toEqual([['a', 'b'], 2]);
    throw new Error('taken back');
  });
  await expect(failed).rejects.toThrow('taken back');
  expect([await store.write(named), await made(store)]).toEqual([['a'], 'a']);
  expect(await store.write((tx) => tx.facts.lastSeq())).toBe(1);
  await store.close();
});

test('facts are kept from one transaction to the next while nothing was written', () => {
  const kept = new KeptFacts();
  const first = new TxFacts(1, kept).known;
  expect(new TxFacts(1, kept).known).toBe(first);
  expect(new TxFacts(2, kept).known).not.toBe(first);
  const writing = new TxFacts(2, kept);
  const before = writing.known;
  writing.forget();
  expect([writing.known === before, new TxFacts(2, kept).known === before]).toEqual([false, false]);
  expect(new TxFacts(2, kept).known).not.toBe(writing.known);
  expect(new TxFacts(null, kept).known).not.toBe(new TxFacts(null, kept).known);
});
