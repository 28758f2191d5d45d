/** A unit in its box is entered without a bike, and nothing counts for it. */
import { expect, test } from 'vitest';
import { listDue } from '../../../src/flow/due/listDue.js';
import { plain, signedIn } from '../visitor.js';
import { NOW, webWorld } from '../webWorld.js';

const PAGE = '/units/new';
const FORK = { kind: 'fork coil', model: 'Sample fork B', serial: 'B-77', history: 'unknown' };

test('a fork without a bike gets a tag, stands on its page, and has no hours', async () => {
  const { app, store } = await webWorld();
  const owner = await signedIn(app);
  expect(await owner.text('/units')).toContain(`href="${PAGE}"`);
  const response = await owner.send(PAGE, PAGE, FORK);
  const path = response.headers.get('location')!;
  expect(path).toBe('/units/F-0004?done=added');
  expect(plain(await owner.text(path))).toContain('Sample fork B');
  const unit = (await store.read((tx) => tx.facts.list('unit'))).find(({ body }) => body.tag === 'F-0004')!;
  expect(unit.body).toMatchObject({ unitKind: 'fork', spring: 'coil', serial: 'B-77', history: 'unknown' });
  const subject = unit.entityId;
  expect(await store.read((tx) => tx.facts.list('fitting', { subject }))).toEqual([]);
  const rows = (await store.read((tx) => listDue(tx, NOW))).filter((row) => row.unit === 'F-0004');
  for (const row of rows) expect([row.movingHoursSince, row.rider]).toEqual([0, null]);
  expect(plain(await owner.text('/find?q=B-77'))).not.toContain('Nothing was found');
});

test.each([
  ['model', { model: 'x'.repeat(101) }],
  ['serial', { serial: 'a\u2028b' }],
])('a wrong %s is told beside its field, all typed kept', async (name, wrong) => {
  const { app, store } = await webWorld();
  const owner = await signedIn(app);
  const before = await store.read((tx) => tx.facts.count());
  const response = await owner.send(PAGE, PAGE, { ...FORK, ...wrong });
  expect(response.status).toBe(422);
  const text = await response.text();
  expect(text).toContain(`id="${name}-wrong"`);
  expect(text).toContain('value="fork coil" selected');
  expect(await store.read((tx) => tx.facts.count())).toBe(before);
});

test('a unit in its box belongs to the rider from whose page it was entered, who is called and mailed about it', async () => {
  const { app, store } = await webWorld();
  const owner = await signedIn(app);
  expect(await owner.text('/riders/r1')).toContain('href="/units/new?rider=r1"');
  const page = `${PAGE}?rider=r1`;
  expect(plain(await owner.text(page))).toContain('It belongs to Pia Lanternby.');
  const response = await owner.send(page, PAGE, { ...FORK, rider: 'r1' });
  expect(response.headers.get('location')).toBe('/units/F-0004?done=added');
  expect(plain(await owner.text('/riders/r1'))).toMatch(/A unit in its box .*F-0004/);
  await owner.send('/bench', '/bench/arrive', { tag: 'F-0004' });
  expect(plain(await owner.text('/bench'))).toMatch(/F-0004 .*Pia Lanternby/);
  const fact = /name="fact" value="([^"]*)"/.exec(await owner.text('/bench'))![1]!;
  await owner.send('/bench', '/units/F-0004/step', { to: 'done', fact, from: 'bench' });
  expect(plain(await owner.text('/bench'))).toContain('Mail to Pia Lanternby: it is ready');
  const unknown = await owner.send(PAGE, PAGE, { ...FORK, rider: 'r99' });
  expect(unknown.status).toBeGreaterThanOrEqual(400);
  expect((await store.read((tx) => tx.facts.list('unit'))).map(({ body }) => body.tag)).not.toContain(
    'F-0005',
  );
});

test('a unit that came off its bike still is of that bike’s rider', async () => {
  const { app } = await webWorld();
  const owner = await signedIn(app);
  await owner.send('/units/F-0001', '/units/F-0001/off', { until: 'on', on: '2026-06-10' });
  await owner.send('/bench', '/bench/arrive', { tag: 'F-0001' });
  expect(plain(await owner.text('/bench'))).toMatch(/F-0001 .*Pia Lanternby/);
});
