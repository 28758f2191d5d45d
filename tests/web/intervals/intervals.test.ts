import { expect, test } from 'vitest';
import { listDue } from '../../../src/flow/due/listDue.js';
import type { Store } from '../../../src/ports/store.js';
import { plain, signedIn } from '../visitor.js';
import { DOCUMENT, NOW, webWorld } from '../webWorld.js';

const FORK = '/intervals/fork/lower-leg';
const FORTY = { terrainHours: '40', months: '12', ceiling: 'usual', ceilingHours: '' };
const query = (fields: Record<string, string>): string => `${FORK}?${new URLSearchParams(fields)}`;

const lowerLegOf = async (store: Store, tag: string) =>
  (await store.read((tx) => listDue(tx, NOW))).find(
    (row) => row.unit === tag && row.serviceKind === 'lower-leg',
  )!;

test('the defaults are shown as common practice, behind the maker', async () => {
  const { app } = await webWorld();
  const text = plain(await (await signedIn(app)).text('/intervals'));
  expect(text).toContain("The maker's manual comes first.");
  // Common practice, no source.
  expect(text).toContain('fork lower-leg service 50 h 12 months 75 h, under warranty 50 h common practice');
  expect(text).toContain('fork damper service 150 h no limit 225 h, under warranty 150 h common practice');
  expect(text).toContain('air shock air-sleeve service 50 h 12 months');
  expect(text).toContain('coil shock full service 200 h no limit');
  expect(text).not.toContain('Narrower rules');
});

test('a preview names the units that would change state, and saves nothing', async () => {
  const { app, store } = await webWorld();
  const before = await store.read((tx) => tx.facts.count());
  const text = plain(await (await signedIn(app)).text(query(FORTY)));
  expect(text).toContain('With 40 h or 12 months: 1 unit of 3 units would change state:');
  expect(text).toMatch(/F-0001 Sample fork T-150 coming up due \d+ June reached \d+ May/);
  expect(await store.read((tx) => tx.facts.count())).toBe(before);
  expect((await lowerLegOf(store, 'F-0001')).state).toBe('coming-up');
});

test('a saved interval changes the state at once, and says who set it', async () => {
  const { app, store } = await webWorld();
  const visitor = await signedIn(app);
  const response = await visitor.send(query(FORTY), FORK, FORTY);
  expect(response.status).toBe(303);
  expect(response.headers.get('location')).toBe('/intervals?saved');
  const row = await lowerLegOf(store, 'F-0001');
  // 45 hours of 40: reached, and not yet by a quarter over.
  expect(row).toMatchObject({ state: 'due', terrainHoursSince: 45, hoursLeft: -5, limit: 'terrain-hours' });
  expect(row.interval).toEqual({ terrainHours: 40, months: 12, movingHoursCeiling: 60, rule: 'kind' });
  const text = plain(await visitor.text('/intervals?saved'));
  expect(text).toContain('The interval is saved');
  expect(text).toContain('fork lower-leg service 40 h 12 months 60 h, under warranty 40 h owner, 10 June');
  const again = await visitor.send(FORK, FORK, FORTY);
  expect(again.headers.get('location')).toBe('/intervals?unchanged');
});

test('a preview tells what saving then does', async () => {
  const { app, store } = await webWorld();
  const visitor = await signedIn(app);
  for (const terrainHours of ['30', '45', '45,5', '200']) {
    const fields = { ...FORTY, terrainHours };
    const promised = plain(await visitor.text(query(fields)));
    const before = (await lowerLegOf(store, 'F-0001')).state;
    await visitor.send(FORK, FORK, fields);
    const after = (await lowerLegOf(store, 'F-0001')).state;
    expect(promised.includes('1 unit of 3 units would change state')).toBe(before !== after);
  }
  expect((await lowerLegOf(store, 'F-0001')).state).toBe('in-time');
});

test.each([
  ['words for hours', { terrainHours: 'fifty' }, 'Write the hours as a number'],
  ['no hours', { terrainHours: '0' }, 'Write the hours as a number'],
  ['hours below nothing', { terrainHours: '-5' }, 'Write the hours as a number'],
  ['hours in powers of ten', { terrainHours: '1e3' }, 'Write the hours as a number'],
  ['more hours than there are', { terrainHours: '10001' }, 'at most 10 000'],
  ['half a month', { months: '1.5' }, 'Write the months as a whole number from 1 to 240.'],
  ['too many months', { months: '241' }, 'Write the months as a whole number from 1 to 240.'],
  ['a ceiling without a number', { ceiling: 'number' }, 'Write the ceiling as a number'],
  ['no limit at all', { terrainHours: '', months: '' }, 'Give at least one limit'],
])('%s are refused in plain words, beside the field, and nothing is saved', async (_, wrong, message) => {
  const { app, store } = await webWorld();
  const visitor = await signedIn(app);
  const before = await store.read((tx) => tx.facts.count());
  const fields: Record<string, string> = { ...FORTY, ...wrong };
  for (const response of [await visitor.get(query(fields)), await visitor.send(FORK, FORK, fields)]) {
    expect(response.status).toBe(422);
    const text = await response.text();
    expect(text).toContain(message);
    expect(text).toContain('aria-invalid="true"');
    expect(text).not.toContain('Save this interval');
    expect(text).toContain(`value="${fields.terrainHours}"`);
  }
  expect(await store.read((tx) => tx.facts.count())).toBe(before);
});

test('a ceiling may be set, or left out', async () => {
  const { app, store } = await webWorld();
  const visitor = await signedIn(app);
  await visitor.send(FORK, FORK, { ...FORTY, ceiling: 'number', ceilingHours: '44,5' });
  expect((await lowerLegOf(store, 'F-0001')).interval.movingHoursCeiling).toBe(44.5);
  await visitor.send(FORK, FORK, { ...FORTY, terrainHours: '', ceiling: 'none' });
  expect((await lowerLegOf(store, 'F-0001')).interval).toMatchObject({
    terrainHours: null,
    months: 12,
    movingHoursCeiling: null,
  });
});

test('a rule for a unit and one for a model stand in place of the wider one', async () => {
  const { app, store } = await webWorld();
  const visitor = await signedIn(app);
  const ofUnit = `${FORK}?unit=F-0001`;
  expect(plain(await visitor.text(ofUnit))).toContain('Lower-leg service, unit F-0001');
  await visitor.send(ofUnit, ofUnit, { ...FORTY, terrainHours: '90' });
  expect((await lowerLegOf(store, 'F-0001')).interval).toMatchObject({ terrainHours: 90, rule: 'unit' });
  expect((await lowerLegOf(store, 'F-0003')).interval).toMatchObject({ terrainHours: 50, rule: 'kind' });
  const model = encodeURIComponent('Sample fork <i>T</i>');
  const ofModel = `${FORK}?model=${model}`;
  expect(plain(await visitor.text(`${query(FORTY)}&model=${model}`))).toContain(
    'No state would change. 1 unit looked at.',
  );
  await visitor.send(ofModel, ofModel, FORTY);
  expect((await lowerLegOf(store, 'F-0002')).interval).toMatchObject({ terrainHours: 40, rule: 'model' });
  const text = await visitor.text('/intervals');
  expect(text).toContain('Narrower rules');
  expect(text).toContain('model Sample fork &lt;i&gt;T&lt;/i&gt;');
  expect((await visitor.get(`${FORK}?unit=F-9999`)).status).toBe(404);
});

test('a change that alters the rule of a fleet bike is seen only there', async () => {
  const fleets = [{ id: 't1', name: 'Race fleet' }];
  const bikes = DOCUMENT.bikes.map((bike) => (bike.id === 'b1' ? { ...bike, fleet: 't1' } : bike));
  const { app, store } = await webWorld({ document: { ...DOCUMENT, fleets, bikes } });
  const visitor = await signedIn(app);
  const ofFleet = `${FORK}?fleet=t1`;
  await visitor.send(ofFleet, ofFleet, FORTY);
  expect((await lowerLegOf(store, 'F-0001')).interval).toMatchObject({ terrainHours: 40, rule: 'fleet' });
  expect((await lowerLegOf(store, 'F-0002')).interval).toMatchObject({ terrainHours: 50, rule: 'kind' });
  for (const page of ['/intervals', ofFleet])
    expect(plain(await visitor.text(page)), page).toContain('fleet Race fleet');
});

test('what is typed after the preview is never saved unseen, nor what was seen in its place', async () => {
  const { app, store } = await webWorld();
  const visitor = await signedIn(app);
  const page = await visitor.text(query(FORTY));
  const shown = /name="shown" value="([^"]*)"/.exec(page)![1]!.replaceAll('&quot;', '"');
  const asked = await visitor.send(query(FORTY), FORK, { ...FORTY, terrainHours: '45', shown });
  expect(asked.status).toBe(409);
  const text = await asked.text();
  expect(plain(text)).toContain('This differs from what was shown before.');
  expect(plain(text)).toContain('With 45 h or 12 months:');
  expect((await lowerLegOf(store, 'F-0001')).interval.terrainHours).toBe(50);
  const now = /name="shown" value="([^"]*)"/.exec(text)![1]!.replaceAll('&quot;', '"');
  const saved = await visitor.send(query(FORTY), FORK, { ...FORTY, terrainHours: '45', shown: now });
  expect(saved.status).toBe(303);
  expect((await lowerLegOf(store, 'F-0001')).interval.terrainHours).toBe(45);
});
