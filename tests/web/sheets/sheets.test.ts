/** Sheets by model and year: typed by one, checked by another, on the card of each unit. All values invented. */
import { expect, test } from 'vitest';
import { exportLedger } from '../../../src/flow/carry/exportLedger.js';
import { type TeamWorld, teamWorld } from '../teamWorld.js';
import { plain, signedIn } from '../visitor.js';
import { DOCUMENT, takeDocument, webWorld } from '../webWorld.js';

const SHEET = '/sheets/edit?kind=fork&model=Sample+fork+T-150';
const TYPED = { edition: '3rd, 2024', airOil: 'bath oil <A>', airMl: '10', damperTorque: 'as typed' };

const sheetsOf = ({ store }: TeamWorld) =>
  store.read(async (tx) => (await tx.facts.list('sheet')).map(({ id, body }) => ({ id, ...body })));

test('a sheet is typed by one and checked by another, and stands on the card of each unit of the model', async () => {
  const world = await teamWorld();
  const tech = await world.as('tech');
  expect(plain(await tech.text('/sheets'))).toContain('Models without a sheet');
  expect(plain(await tech.text('/sheets'))).toContain('Sample fork T-150, every year, fork, air');
  const form = await tech.text(SHEET);
  // Nothing is filled in.
  expect(
    [...form.matchAll(/<input id="\w+" name="\w+" type="text" value="([^"]*)"/g)].every(([, v]) => v === ''),
  ).toBe(true);
  expect((await tech.send(SHEET, SHEET, TYPED)).headers.get('location')).toMatch(/done=saved$/);
  const card = plain(await tech.text('/units/F-0001/card'));
  expect(card).toContain(
    'Air side oil bath oil <A>; oil in ml 10 Damper side torque of the foot nut as typed',
  );
  expect(card).toContain('Manual: 3rd, 2024. Typed by tech; nobody has checked it yet.');
  expect(plain(await tech.text('/units/F-0002/card'))).not.toContain('bath oil');
  const { id } = (await sheetsOf(world))[0]!;
  // Not by whoever typed it.
  expect(plain(await tech.text('/sheets'))).toContain('nobody yet');
  const own = await tech.send('/sheets', '/sheets/check', { fact: id });
  expect(own.status).toBe(409);
  expect(plain(await own.text())).toContain('The person who typed a sheet cannot check it.');
  const owner = await world.as('owner');
  expect((await owner.send('/sheets', '/sheets/check', { fact: id })).status).toBe(303);
  expect(await sheetsOf(world)).toMatchObject([{ typedBy: 'tech', checkedBy: 'owner' }]);
  expect(plain(await tech.text('/units/F-0001/card'))).toContain('Typed by tech, checked by owner.');
  // What is typed anew is checked anew.
  const fact = /name="fact" value="(\w+)"/.exec(await tech.text(SHEET))![1]!;
  await tech.send(SHEET, SHEET, { ...TYPED, airMl: '12', fact });
  expect(await sheetsOf(world)).toMatchObject([{ values: { airMl: '12' }, checkedBy: null }]);
});

test('two who type at once see each other, and the same again saves nothing', async () => {
  const world = await teamWorld();
  const tech = await world.as('tech');
  await tech.send(SHEET, SHEET, TYPED);
  const owner = await world.as('owner');
  const clash = await owner.send(SHEET, SHEET, { ...TYPED, airMl: '99' });
  expect(clash.status).toBe(409);
  const text = await clash.text();
  expect(plain(text)).toContain('tech has changed this');
  expect(text).toContain('value="99"');
  const { id } = (await sheetsOf(world))[0]!;
  const same = await owner.send(SHEET, SHEET, { ...TYPED, fact: id });
  expect(same.headers.get('location')).toMatch(/done=unchanged$/);
  expect(await sheetsOf(world)).toMatchObject([{ typedBy: 'tech', values: { airMl: '10' } }]);
});

test('a unit may differ: its own lines stand on its card alone, and say so', async () => {
  const world = await teamWorld();
  const tech = await world.as('tech');
  await tech.send(SHEET, SHEET, TYPED);
  const own = '/sheets/edit?unit=F-0001';
  const form = plain(await tech.text(own));
  expect(form).toContain('It has the sheet of: Sample fork T-150, every year, fork, air');
  expect(form).toContain('its model: bath oil <A>');
  await tech.send(own, own, { airMl: '14' });
  const card = plain(await tech.text('/units/F-0001/card'));
  expect(card).toContain('Air side oil bath oil <A>; oil in ml 14 (this unit alone)');
  expect(plain(await tech.text('/sheets'))).toContain('F-0001 alone');
});

test('a sheet of which no model is named, or of a year that is none, is not there', async () => {
  const visitor = await signedIn((await webWorld()).app);
  for (const [query, status] of [
    ['', 303],
    ['?kind=fork&model=+', 303],
    ['?kind=saddle&model=X', 404],
    ['?kind=fork&model=X&year=12', 404],
    ['?unit=F-9999', 404],
  ] as const)
    expect((await visitor.get(`/sheets/edit${query}`)).status, query).toBe(status);
});

test('a second look is asked for on form and card once the owner says so, and is somebody else’s', async () => {
  const world = await teamWorld();
  const [owner, tech] = [await world.as('owner'), await world.as('tech')];
  const path = '/units/F-0001/service';
  expect(plain(await tech.text(path))).not.toContain('second look');
  expect(plain(await tech.text('/sheets'))).not.toContain('A second look');
  const fact = /action="\/sheets\/look">.*?name="fact" value="(\w+)"/s.exec(await owner.text('/sheets'))![1]!;
  await owner.send('/sheets', '/sheets/look', { fact, oil: 'yes', torques: 'yes' });
  const form = plain(await tech.text(path));
  expect(form).toContain('Oil on each side: second look by');
  expect(form).toContain('Torques: second look by');
  expect(form).not.toContain('Pressure: second look by');
  expect(plain(await tech.text('/units/F-0001/card'))).toContain('Torques: second look by');
  const service = { kind: 'lower-leg', on: '2026-06-10', by: 'here', technician: 'Tove' };
  const own = await tech.send(path, path, { ...service, secondOil: 'tove' });
  expect(own.status).toBe(422);
  expect(plain(await own.text())).toContain('Somebody other than the technician takes the second look');
  expect((await tech.send(path, path, { ...service, secondOil: 'Otto', secondTorques: 'Otto' })).status).toBe(
    303,
  );
  expect(plain(await tech.text('/units/F-0001'))).toContain(
    'Oil on each side: second look by: Otto; Torques: second look by: Otto',
  );
});

test('sheets come by import and go by export; one without a model, or with a line that is none, is refused', async () => {
  const sheets = [
    {
      ...{ unitKind: 'fork', scope: { model: 'Sample fork T-150', modelYear: 2024 }, edition: '3rd' },
      ...{ values: { airOil: 'as typed' }, typedBy: 'Tove', checkedBy: 'Otto' },
    },
    { unitKind: 'air-shock', scope: { unit: 'A-0001' }, values: { canOil: 'as typed' }, typedBy: 'Tove' },
  ];
  const { store, deps } = await webWorld({ document: { ...DOCUMENT, sheets } });
  const rows = new Map<string, unknown>();
  await store.read((tx) => exportLedger(tx, { key: (name, of) => rows.set(name, of), copy: () => {} }));
  expect(rows.get('sheets')).toMatchObject([
    { scope: { model: 'Sample fork T-150', modelYear: 2024, unit: null }, checkedBy: 'Otto' },
    { scope: { model: null, unit: 'A-0001' }, checkedBy: null },
  ]);
  const count = () => store.read((tx) => tx.facts.count());
  const before = await count();
  await takeDocument(store, { sheets }, deps.clock.now());
  expect(await count()).toBe(before);
  const again = (sheet: object) =>
    takeDocument(store, { sheets: [{ ...sheets[0]!, ...sheet }] }, deps.clock.now());
  await expect(again({ scope: {} })).rejects.toThrow(/must name a model, or one unit/);
  await expect(again({ values: { colour: 'red' } })).rejects.toThrow();
  await expect(again({ checkedBy: 'Tove' })).rejects.toThrow();
  expect(await count()).toBe(before);
});
