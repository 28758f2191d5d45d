/** Between a page and its form rights may go: what counts is what holds in the transaction that writes. */
import { expect, it } from 'vitest';
import { getAccountByName, removeAccount } from '../../src/flow/accounts.js';
import { swapUnits } from '../../src/flow/fittings/fittings.js';
import type { Tx } from '../../src/ports/store.js';
import { createApp } from '../../src/web/app.js';
import { teamWorld } from './teamWorld.js';
import { Visitor } from './visitor.js';
import { NOW, TODAY } from './webWorld.js';

/** Signs in as the mechanic of one team and sends a form; just before it is written, `meanwhile` happens. */
async function sendWhile(
  meanwhile: (tx: Tx) => Promise<unknown>,
  path: string,
  fields: Record<string, string>,
) {
  const { deps, store, as } = await teamWorld();
  let happens: typeof meanwhile | null = null;
  const write: typeof store.write = async (work) => {
    const first = happens;
    happens = null;
    if (first !== null) await store.write(first);
    return store.write(work);
  };
  const visitor = new Visitor(createApp({ ...deps, store: { ...store, write } }));
  visitor.take((await as('oak')).cookie);
  const page = path.slice(0, path.lastIndexOf('/'));
  const body = { ...fields, token: await visitor.tokenOn(page) };
  happens = meanwhile;
  const response = await visitor.post(path, body);
  expect(happens, 'the form was to be written').toBeNull();
  const unitId = await store.read(async (tx) => (await tx.handles.find('unit', 'F-0501'))!);
  const marks = await store.read((tx) => tx.facts.list('mark', { subject: unitId }));
  return { status: response.status, marks: marks.length };
}

const MARK = ['/units/F-0501/mark', { why: 'bent crown' }] as const;
const entry = { by: 'test', at: NOW };

it('a form is taken where nothing happens meanwhile', async () => {
  expect(await sendWhile(async () => {}, ...MARK)).toEqual({ status: 303, marks: 1 });
});

it('whose account was removed meanwhile changes nothing', async () => {
  const remove = async (tx: Tx) => removeAccount(tx, await getAccountByName(tx, 'oak'));
  expect(await sendWhile(remove, ...MARK)).toEqual({ status: 403, marks: 0 });
});

it('whoever was signed out everywhere meanwhile changes nothing', async () => {
  const signOut = async (tx: Tx) => tx.accounts.removeSessionsOf((await getAccountByName(tx, 'oak')).id);
  expect(await sendWhile(signOut, ...MARK)).toEqual({ status: 403, marks: 0 });
});

it('a unit that went to another fleet meanwhile is not there', async () => {
  const swap = async (tx: Tx) => {
    const [one, other] = [await tx.handles.find('unit', 'F-0501'), await tx.handles.find('unit', 'F-0601')];
    return swapUnits(tx, [one!, other!], TODAY, entry, { backWhy: 'back' });
  };
  expect(await sendWhile(swap, ...MARK)).toEqual({ status: 404, marks: 0 });
});
