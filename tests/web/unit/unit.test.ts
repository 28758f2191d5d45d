import { expect, test } from 'vitest';
import { listDue } from '../../../src/flow/due/listDue.js';
import { instant, MINUTE_MS } from '../../../src/units.js';
import { plain, signedIn, type Visitor } from '../visitor.js';
import { NOW, type WebWorld, webWorld } from '../webWorld.js';

const PAGE = '/units/F-0001';

async function opened(): Promise<WebWorld & { visitor: Visitor }> {
  const world = await webWorld();
  return { ...world, visitor: await signedIn(world.app) };
}

const rowOf = async ({ store }: WebWorld, unit: string, serviceKind: string) =>
  (await store.read((tx) => listDue(tx, NOW))).find(
    (row) => row.unit === unit && row.serviceKind === serviceKind,
  )!;

test('the list of units shows what comes next for each', async () => {
  const { visitor } = await opened();
  const text = plain(await visitor.text('/units'));
  expect(text).toMatch(
    /F-0001 fork, Sample fork T-150 Green trail bike Pia Lanternby coming up lower-leg service \d+ June/,
  );
  expect(text).toContain('A-0001 air shock, Sample shock A-55 on no bike in time');
});

test('a unit has its standings, its book and its rides with the weight of each', async () => {
  const { visitor } = await opened();
  const text = plain(await visitor.text(PAGE));
  expect(text).toContain('Model fork, Sample fork T-150');
  expect(text).toContain('Rider Pia Lanternby');
  expect(text).toContain('lower-leg service coming up');
  expect(text).toContain('damper service in time');
  expect(text).toContain('45.0 h of 150 h 105.0 h left');
  expect(text).toContain('1 January put on Green trail bike entered by import');
  // Three hours on typical ground weigh as three: the weight at severity 1 is 1.
  expect(text).toContain('7 June Green trail bike 3.0 h 1.00 3.0 h 1.00 entered by hand');
  // Once for each of the latest rides, and once as a source of hours.
  expect([...text.matchAll(/entered by hand/g)]).toHaveLength(13);
  expect(text).toContain('Before anybody opens a unit');
  expect((await visitor.get('/units/F-9999')).status).toBe(404);
});

test('a logged service restarts its clocks and stands in the book with what was found', async () => {
  const world = await opened();
  const { visitor } = world;
  const fields = {
    kind: 'lower-leg',
    on: '2026-06-01',
    foamRings: 'honey',
    oil: 'brown',
    crown: '',
    note: 'New washers <b>',
    parts: '2 × foam ring; 10 ml bath oil',
    technician: 'Somebody Invented',
  };
  const response = await visitor.send(PAGE, `${PAGE}/service`, fields);
  expect(response.headers.get('location')).toBe(`${PAGE}?done=service`);
  // Of the weekly rides only the one of 7 June is later than 1 June.
  expect(await rowOf(world, 'F-0001', 'lower-leg')).toMatchObject({ terrainHoursSince: 3, state: 'in-time' });
  expect(await rowOf(world, 'F-0001', 'damper')).toMatchObject({ terrainHoursSince: 45 });
  const text = plain(await visitor.text(`${PAGE}?done=service`));
  expect(text).toContain('The service is logged');
  expect(text).toMatch(
    /1 June lower-leg service restarted: lower-leg service Foam rings: honey; Oil: brown 2.×.foam ring; 10.ml bath oil; technician: Somebody Invented New washers <b> entered by owner/,
  );
  expect(plain(await visitor.text(`${PAGE}/book`))).toMatch(
    /2.×.foam ring; 10.ml bath oil; technician: Somebody Invented/,
  );
});

test('the same service twice on one day asks, and keeps all that was typed', async () => {
  const { visitor, store } = await opened();
  const fields = { kind: 'lower-leg', on: '2026-06-01', note: 'first <look>' };
  await visitor.send(PAGE, `${PAGE}/service`, fields);
  const again = await visitor.send(PAGE, `${PAGE}/service`, fields);
  expect(again.status).toBe(422);
  const text = await again.text();
  expect(plain(text)).toContain('owner has already logged this service for this day. Nothing was saved.');
  expect(text).toContain('value="first &lt;look&gt;"');
  const services = async () => {
    const unitId = await store.read(async (tx) => (await tx.handles.find('unit', 'F-0001'))!);
    return store.read((tx) => tx.facts.list('service', { subject: unitId }));
  };
  expect(await services()).toHaveLength(1);
  await visitor.send(PAGE, `${PAGE}/service`, { ...fields, again: 'yes' });
  expect(await services()).toHaveLength(2);
});

test('a fault stands beside its field, which has the focus', async () => {
  const { visitor } = await opened();
  const wrong = await visitor.send(PAGE, `${PAGE}/service`, { kind: 'full', on: '2026-06-11', note: 'kept' });
  const text = await wrong.text();
  expect(text).toMatch(/name="on"[^>]* autofocus aria-describedby="on-wrong" aria-invalid="true"/);
  expect(text).toContain('id="on-wrong"');
  expect(text).toContain('value="kept"');
});

test('what the kind takes is ticked with its usual amount, and everything of a service is put right', async () => {
  const { visitor, store } = await opened();
  const form = await visitor.text(`${PAGE}/service`);
  expect(form).toContain('name="part-0"');
  const listed = {
    partsOf: 'lower-leg',
    'part-0': 'yes',
    'name-0': 'foam ring',
    'amount-0': '3',
    'measure-0': 'pieces',
  };
  const fields = { kind: 'lower-leg', on: '2026-06-01', ...listed };
  const other = await visitor.send(PAGE, `${PAGE}/service`, { ...fields, kind: 'full' });
  expect(plain(await other.text())).toContain('The parts below are those of another service.');
  await visitor.send(PAGE, `${PAGE}/service`, fields);
  const unitId = await store.read(async (tx) => (await tx.handles.find('unit', 'F-0001'))!);
  const only = async () => (await store.read((tx) => tx.facts.list('service', { subject: unitId })))[0]!;
  const before = await only();
  expect(before.body.parts).toEqual([{ part: 'foam ring', count: 3, measure: 'pieces' }]);
  const line = `${PAGE}/lines/${before.id}`;
  const change = {
    kind: 'full',
    on: '2026-06-02',
    by: 'at-home',
    foamRings: 'dark',
    parts: '2 × foam ring',
    note: 'as it was',
    serviceWhy: 'Mixed up',
  };
  await visitor.send(line, `${line}/service`, change);
  expect((await only()).body).toMatchObject({
    serviceKind: 'full',
    on: '2026-06-02',
    by: 'at-home',
    findings: { foamRings: 'dark' },
    parts: [{ part: 'foam ring', count: 2, measure: 'pieces' }],
    note: 'as it was',
  });
  expect((await only()).body.restarts).toContain('damper');
});

test('a job without a clock restarts nothing, and only a fork’s travel is changed', async () => {
  const world = await opened();
  await world.visitor.send(PAGE, `${PAGE}/service`, {
    kind: 'travel-change',
    on: '2026-06-01',
    by: 'another-workshop',
  });
  expect(await rowOf(world, 'F-0001', 'lower-leg')).toMatchObject({ terrainHoursSince: 45 });
  expect(plain(await world.visitor.text(PAGE))).toContain('done at another workshop restarted nothing');
  const shock = '/units/A-0001';
  const refused = await world.visitor.send(shock, `${shock}/service`, {
    kind: 'travel-change',
    on: '2026-06-01',
  });
  expect(refused.status).toBe(422);
});

test.each([
  ['a day to come', 'service', { kind: 'full', on: '2026-06-11' }, 'Choose a day, not later than today.'],
  ['no day', 'service', { kind: 'full', on: '' }, 'Choose a day, not later than today.'],
  [
    'a job that a fork has not',
    'service',
    { kind: 'bushings', on: '2026-06-01' },
    'Choose one from the list.',
  ],
  [
    'rings of no known colour',
    'service',
    { kind: 'full', on: '2026-06-01', foamRings: 'blue' },
    'Choose one',
  ],
  ['oil of no known look', 'service', { kind: 'full', on: '2026-06-01', oil: 'purple' }, 'Choose one'],
  [
    'parts without a name',
    'service',
    { kind: 'full', on: '2026-06-01', parts: '2 ×' },
    'a number and a name',
  ],
  ['a note of two lines', 'service', { kind: 'full', on: '2026-06-01', note: 'a\nb' }, 'on one line'],
  ['a service before it came', 'service', { kind: 'full', on: '2025-06-01' }, 'cannot have been serviced'],
  ['a mark without a reason', 'mark', { why: ' ' }, 'Say why'],
  ['a bike that there is not', 'fit', { fitBike: 'b99', fitFrom: '2026-06-01' }, 'Choose one from the list.'],
  ['a place that is taken', 'fit', { fitBike: 'b2', fitFrom: '2026-06-01' }, 'F-0001 is on bike b1'],
  ['a swap with nothing', 'swap', { swapWith: '', swapFrom: '2026-06-01' }, 'Choose one from the list.'],
])(
  '%s is refused in plain words, and nothing is saved',
  async (_, act, fields: Record<string, string>, message) => {
    const { visitor, store } = await opened();
    const before = await store.read((tx) => tx.facts.count());
    const response = await visitor.send(PAGE, `${PAGE}/${act}`, fields);
    expect([409, 422]).toContain(response.status);
    const text = await response.text();
    expect(plain(text)).toContain(message);
    expect(text).toContain('role="alert"');
    if (act !== 'service') expect(text).toContain('<details class="entry" open>');
    expect(await store.read((tx) => tx.facts.count())).toBe(before);
  },
);

test('a unit with the mark goes on a bike only with a tick, and is named so among what to swap with', async () => {
  const { app } = await webWorld();
  const visitor = await signedIn(app);
  await visitor.send('/units/F-0002', '/units/F-0002/mark', { why: 'a crack at the crown' });
  expect(plain(await visitor.text('/units'))).toMatch(/F-0002 .{0,80}stop riding/);
  const page = await visitor.text(PAGE);
  expect(page).toContain('>F-0002 (stop riding)</option>');
  expect(page).toContain('>F-0003</option>');
  const fields = { swapWith: 'F-0002', swapFrom: '2026-06-05' };
  const refused = await visitor.send(PAGE, `${PAGE}/swap`, fields);
  expect(refused.status).toBe(409);
  const said = await refused.text();
  expect(plain(said)).toContain('It is marked “stop riding” and goes on anyway');
  const taken = await visitor.send(PAGE, `${PAGE}/swap`, { ...fields, althoughMarked: 'yes', moved: 'yes' });
  expect(taken.headers.get('location')).toBe(`${PAGE}?done=swap`);
});

test('a unit is taken off, put on another bike, and swapped with another, in one step each', async () => {
  const world = await opened();
  const { visitor } = world;
  const swap = { swapWith: 'F-0002', swapFrom: '2026-06-05' };
  const asked = await visitor.send(PAGE, `${PAGE}/swap`, swap);
  expect(asked.status).toBe(422);
  expect(plain(await asked.text())).toContain('for other units: 7 June, 3 h: from F-0001 to F-0002.');
  expect(await rowOf(world, 'F-0001', 'full')).toMatchObject({ bike: 'b1', terrainHoursSince: 45 });
  await visitor.send(PAGE, `${PAGE}/swap`, { ...swap, moved: 'yes' });
  expect(await rowOf(world, 'F-0001', 'full')).toMatchObject({ bike: 'b2', terrainHoursSince: 42 });
  expect(await rowOf(world, 'F-0002', 'full')).toMatchObject({ bike: 'b1', terrainHoursSince: 3 });
  await visitor.send(PAGE, `${PAGE}/off`, { offFrom: '2026-06-09' });
  expect(await rowOf(world, 'F-0001', 'full')).toMatchObject({ bike: null, terrainHoursSince: 42 });
  const shock = '/units/A-0001';
  const fitted = await visitor.send(shock, `${shock}/fit`, { fitBike: 'b1', fitFrom: '2026-06-01' });
  expect(fitted.headers.get('location')).toBe(`${shock}?done=fit`);
  expect(await rowOf(world, 'A-0001', 'full')).toMatchObject({ bike: 'b1', terrainHoursSince: 3 });
  const book = plain(await visitor.text(PAGE));
  expect(book).toContain('taken off Green trail bike, F-0002 on in its place');
});

test('a unit that is sold is in no list and is found; it comes back with its hours', async () => {
  const world = await opened();
  const { visitor } = world;
  const sold = await visitor.send(PAGE, `${PAGE}/gone`, { goneHow: 'sold', goneOn: '2026-06-09' });
  expect(sold.headers.get('location')).toBe(`${PAGE}?done=gone`);
  const page = plain(await visitor.text(PAGE));
  expect(page).toContain('Gone since 9 June: sold. It is never due and in no list.');
  expect(page).toContain('left for good: sold');
  for (const list of ['/due', '/units', '/']) expect(await visitor.text(list)).not.toContain('F-0001');
  expect((await visitor.get('/find?q=F-0001')).headers.get('location')).toBe(PAGE);
  const again = await visitor.send(PAGE, `${PAGE}/gone`, { goneHow: 'stolen', goneOn: '2026-06-09' });
  expect(plain(await again.text())).toContain('F-0001 has been gone since 9 June: sold.');
  await visitor.send(PAGE, `${PAGE}/back`, { backOn: '2026-06-10' });
  expect(await rowOf(world, 'F-0001', 'full')).toMatchObject({ bike: null, terrainHoursSince: 45 });
});

test('a crash mark stands above all hours until somebody says what was seen', async () => {
  const world = await opened();
  const { visitor, setNow } = world;
  await visitor.send(PAGE, `${PAGE}/mark`, { why: 'Creaks at the crown' });
  expect((await rowOf(world, 'F-0001', 'lower-leg')).state).toBe('stop-riding');
  expect(plain(await visitor.text(PAGE))).toContain(
    'Stop riding, have it checked first: Creaks at the crown (owner, 10 June)',
  );
  setNow(instant(NOW + 1 * MINUTE_MS));
  const looked = { outside: 'sound', crown: 'quiet', axle: 'sound', arch: 'sound', stanchions: 'clean' };
  const moved = { bushings: 'none', fullTravel: 'reached', extends: 'extends', damper: 'smooth' };
  const rest = { airSpring: 'holds', result: 'ride', by: 'Tove', on: '2026-06-10', note: 'Crown replaced' };
  await visitor.send(PAGE, `${PAGE}/crash`, { ...looked, ...moved, ...rest });
  expect((await rowOf(world, 'F-0001', 'lower-leg')).state).toBe('coming-up');
  setNow(instant(NOW + 2 * MINUTE_MS));
  await visitor.send(PAGE, `${PAGE}/arrive`, {});
  expect((await rowOf(world, 'F-0001', 'lower-leg')).state).toBe('on-the-bench');
  setNow(instant(NOW + 3 * MINUTE_MS));
  const seen = /name="fact" value="(\w+)"/.exec(await visitor.text(PAGE))![1]!;
  await visitor.send(PAGE, `${PAGE}/step`, { to: 'collected', fact: seen });
  expect((await rowOf(world, 'F-0001', 'lower-leg')).state).toBe('coming-up');
});

test('a tag typed wrong is corrected: the old one leads to the page, and two who do so at once see each other', async () => {
  const world = await opened();
  const { visitor } = world;
  const fact = /name="fact" value="(\w+)"/.exec(await visitor.text(PAGE))![1]!;
  const fields = { fact, newTag: 'F-0041', tagWhy: 'Misread label' };
  const before = await rowOf(world, 'F-0001', 'lower-leg');
  const response = await visitor.send(PAGE, `${PAGE}/tag`, fields);
  expect(response.status).toBe(303);
  const led = await visitor.get(response.headers.get('location')!);
  expect(led.headers.get('location')).toBe('/units/F-0041?done=tag');
  const text = plain(await visitor.text('/units/F-0041?done=tag'));
  expect(text).toContain('The tag is corrected; everything else stays as it was.');
  expect(await rowOf(world, 'F-0041', 'lower-leg')).toEqual({ ...before, unit: 'F-0041' });
  const book = plain(await visitor.text('/units/F-0041/book'));
  expect(book).toMatch(
    /registered as F-0041.* was: .*registered as F-0001.*corrected by owner, .*: Misread label/,
  );
  const late = await visitor.send('/units/F-0041', '/units/F-0041/tag', { ...fields, newTag: 'F-9' });
  expect([late.status, plain(await late.text())]).toEqual([
    409,
    expect.stringContaining('owner has changed this (10 June, 10:00).'),
  ]);
  for (const [newTag, said] of [
    ['F/1', 'without slashes'],
    ['F-0002', 'Another unit is already called "F-0002".'],
  ] as const) {
    const now = /name="fact" value="(\w+)"/.exec(await visitor.text('/units/F-0041'))![1]!;
    const refused = await visitor.send('/units/F-0041', '/units/F-0041/tag', {
      ...fields,
      fact: now,
      newTag,
    });
    expect(plain(await refused.text())).toContain(said);
  }
});
