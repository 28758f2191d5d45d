import { expect, test } from 'vitest';
import { listDue } from '../../../src/flow/due/listDue.js';
import { plain, signedIn } from '../visitor.js';
import { NOW, webWorld } from '../webWorld.js';

test('riders are listed with their bikes, units and whether they may be written to', async () => {
  const { app } = await webWorld();
  const markup = await (await signedIn(app)).text('/riders');
  const text = plain(markup);
  expect(text).toContain('Pia Lanternby Green trail bike : F-0001 r1@example.org confirmed English');
  expect(text).toContain('r2@example.org not confirmed yet');
  expect(text).toContain('Bikes without a rider');
  expect(text).toContain('Hire bike F-0003');
  expect(markup).toContain('href="/customers/new"');
  expect(markup).not.toMatch(/<script>|<b>bold/);
});

test('hours ridden without a recorder are charged to the fork, by the ground they were on', async () => {
  const { app, store } = await webWorld();
  const visitor = await signedIn(app);
  const page = '/bikes/b2';
  expect(plain(await visitor.text(page))).toContain('No ride on this bike counts yet.');
  const fields = { on: '2026-06-09', minutes: '90', ground: 'rough', note: 'uplift day' };
  const response = await visitor.send(page, `${page}/hours`, fields);
  expect(response.headers.get('location')).toBe(`${page}?done=added`);
  const row = (await store.read((tx) => listDue(tx, NOW))).find((one) => one.unit === 'F-0002')!;
  // Rough ground weighs 2.0 by default: an assumption, not a measurement.
  expect(row).toMatchObject({ movingHoursSince: 1.5, terrainHoursSince: 3 });
  const text = plain(await visitor.text(`${page}?done=added`));
  expect(text).toContain('The hours are added.');
  expect(text).toContain('9 June 1.5 h 3.0 h entered by hand');
});

test.each([
  ['no minutes', { minutes: '0' }, 'Write the time ridden in minutes'],
  ['more than a day', { minutes: '1441' }, 'Write the time ridden in minutes'],
  ['a day to come', { on: '2026-06-11' }, 'Choose a day'],
  ['a ground unheard of', { ground: 'lunar' }, 'Choose one from the list.'],
])('%s is refused', async (_, wrong, message) => {
  const { app, store } = await webWorld();
  const visitor = await signedIn(app);
  const before = await store.read((tx) => tx.facts.count());
  const fields = { on: '2026-06-09', minutes: '90', ground: 'rough', note: 'kept as typed', ...wrong };
  const response = await visitor.send('/bikes/b2', '/bikes/b2/hours', fields);
  expect(response.status).toBe(422);
  const text = await response.text();
  expect(text).toContain(message);
  expect(text).toContain('value="kept as typed"');
  expect(await store.read((tx) => tx.facts.count())).toBe(before);
  expect((await visitor.get('/bikes/b99')).status).toBe(404);
});
