/** Jobs at home at the counter: which models, the list to pick up, and whom to call first. */
import { expect, it } from 'vitest';
import { chooseHome, findHomePage, logHome } from '../../../src/flow/home/atHome.js';
import { getIdOf } from '../../../src/flow/names.js';
import { day } from '../../../src/units.js';
import { plain, signedIn } from '../visitor.js';
import { NOW, TODAY, webWorld } from '../webWorld.js';

const MODEL = 'Sample fork T-150';
async function opened() {
  const world = await webWorld();
  const visitor = await signedIn(world.app);
  const ids = await world.store.read(async (tx) => ({
    unitId: await getIdOf(tx, 'unit', 'F-0001'),
    riderId: await getIdOf(tx, 'rider', 'r1'),
  }));
  const of = { unitId: ids.unitId, serviceKind: 'lower-leg' };
  const seen = async () => (await world.store.read((tx) => findHomePage(tx, ids.riderId, of, NOW)))!;
  const allow = async (fields: Record<string, string> = {}) =>
    visitor.send('/settings/home', '/settings/home', {
      [`may fork ${MODEL}`]: 'yes',
      [`stop fork ${MODEL}`]: 'a wet disc\r\na stud that turns',
      ...fields,
    });
  const entry = { by: `rider ${ids.riderId}`, at: NOW };
  const choose = async () => {
    const page = await seen();
    return world.store.write((tx) => chooseHome(tx, ids.riderId, page, entry, world.deps.ids));
  };
  return { ...world, visitor, seen, allow, choose, entry };
}

it('a model is allowed with its points, and said so; what cannot be taken is told at its field', async () => {
  const { visitor, seen, allow } = await opened();
  expect((await seen()).job).toBeNull();
  expect(plain(await visitor.text('/settings/home'))).toContain(
    'No figure is typed: the page refers to the manual.',
  );
  expect((await allow()).status).toBe(303);
  expect((await seen()).job).toMatchObject({ model: MODEL, stopHere: 'a wet disc\na stud that turns' });
  expect(plain(await visitor.text('/settings'))).toContain('one model');
  const wrong = await allow({ [`stop fork ${MODEL}`]: 'x'.repeat(2001) });
  expect([wrong.status, plain(await wrong.text())]).toEqual([
    422,
    expect.stringContaining('At most 2000 characters'),
  ]);
  expect((await allow({ [`may fork ${MODEL}`]: '' })).status).toBe(303);
  expect((await seen()).job).toBeNull();
});

it('a kit is handed over once, and stands as at home until it is logged', async () => {
  const { visitor, allow, choose } = await opened();
  await allow();
  expect(plain(await visitor.text('/kits'))).toContain('Nobody waits for a kit.');
  await choose();
  expect(plain(await visitor.text('/'))).toContain('One kit is to be picked up.');
  const page = await visitor.text('/kits');
  const home = /name="home" value="([^"]+)"/.exec(page)![1]!;
  const hand = () => visitor.send('/kits', '/kits/F-0001', { home, say: 'picked-up' });
  expect((await hand()).status).toBe(303);
  expect((await hand()).status).toBe(409);
  const after = plain(await visitor.text('/kits'));
  expect(after).toContain('Nobody waits for a kit.');
  expect(after).not.toContain('Nobody has one at home.');
  expect((await visitor.send('/kits', '/kits/F-0001', { home: 'no-such', say: 'picked-up' })).status).toBe(
    404,
  );
  expect((await visitor.send('/kits', '/kits/F-0002', { home, say: 'picked-up' })).status).toBe(404);
});

it('a bad answer stands first among whom to call, on the first page and on that of calls, until somebody called', async () => {
  const { store, visitor, allow, choose, seen, entry } = await opened();
  await allow();
  await choose();
  const page = await seen();
  const findings = { foamRings: 'honey', stanchions: 'scratched', damper: 'smooth', leaks: 'none' };
  await store.write((tx) =>
    logHome(
      tx,
      page,
      page.chosen!,
      { on: day(TODAY), findings, photos: [], shows: 'rings', stopWhy: () => '' },
      entry,
    ),
  );
  for (const path of ['/', '/reminders']) {
    const text = plain(await visitor.text(path));
    expect(text).toContain('Done at home: one rider to call');
    expect(text).toContain('Stanchions: scratched');
  }
  const calls = await visitor.text('/reminders');
  const home = /name="home" value="([^"]+)"/.exec(calls)![1]!;
  const called = await visitor.send('/kits', '/kits/F-0001', { home, say: 'called' });
  expect([called.status, called.headers.get('location')]).toEqual([303, '/reminders']);
  expect(plain(await visitor.text('/'))).not.toContain('Done at home');
});
