/** A race, a fleet and its spare list are entered on pages, changed and taken back. */
import { expect, test } from 'vitest';
import { listRacePlans } from '../../../src/flow/plan/racePlan.js';
import { teamWorld } from '../teamWorld.js';
import { plain } from '../visitor.js';
import { NOW } from '../webWorld.js';

const RACE = { name: 'Oak Hill', on: '2026-07-04', practiceHours: '3,5', raceHours: '2' };

async function opened(who: 'owner' | 'tech' | 'oak' | 'marsh' = 'tech') {
  const world = await teamWorld();
  const visitor = await world.as(who);
  const bikeId = (handle: string) => world.store.read(async (tx) => (await tx.handles.find('bike', handle))!);
  const races = () => world.store.read((tx) => tx.facts.list('race'));
  const plans = () => world.store.read((tx) => listRacePlans(tx, NOW));
  return { ...world, visitor, bikeId, races, plans };
}

test('a race is entered from the list of races, and its plan stands there', async () => {
  const { visitor, bikeId, races } = await opened();
  expect(await visitor.text('/races')).toContain('href="/races/new"');
  const response = await visitor.send('/races/new', '/races/new', { ...RACE, bikes: [await bikeId('x1')] });
  const path = response.headers.get('location')!;
  expect(path).toMatch(/^\/races\/x\d+$/);
  expect(plain(await visitor.text(path))).toContain('Oak Hill');
  const race = (await races()).find(({ body }) => body.name === 'Oak Hill')!;
  expect(race.body).toMatchObject({ on: '2026-07-04', practiceHours: 3.5, raceHours: 2 });
  expect(race.body.bikeIds).toEqual([await bikeId('x1')]);
});

test.each([
  ['name', { name: '' }, 'Write the name'],
  ['on', { on: '' }, 'Choose a day from today on.'],
  ['on', { on: '2026-06-01' }, 'Choose a day from today on.'],
  ['practiceHours', { practiceHours: 'many' }, 'from 0 to 1000'],
  ['raceHours', { raceHours: '-1' }, 'from 0 to 1000'],
])(
  'a race with a wrong %s is told beside its field; what was typed and ticked stays',
  async (name, wrong, message) => {
    const { visitor, bikeId, races } = await opened();
    const before = (await races()).length;
    const bike = await bikeId('x1');
    const response = await visitor.send('/races/new', '/races/new', { ...RACE, ...wrong, bikes: [bike] });
    expect(response.status).toBe(422);
    const text = await response.text();
    expect(text).toContain(`id="${name}-wrong"`);
    expect(plain(text)).toContain(message);
    expect(text).toContain(`value="${bike}" checked`);
    expect(await races()).toHaveLength(before);
  },
);

test('a race without a bike is refused', async () => {
  const { visitor } = await opened();
  const response = await visitor.send('/races/new', '/races/new', RACE);
  expect(plain(await response.text())).toContain('Tick at least one bike.');
});

test('a race is changed in place of what was seen, and taken back', async () => {
  const { visitor, races } = await opened('owner');
  const [race] = await races();
  const path = `/races/${race!.body.handle}/change`;
  const fields = { ...RACE, fact: race!.id, bikes: race!.body.bikeIds };
  expect((await visitor.send(path, path, fields)).status).toBe(303);
  const late = await visitor.send(path, path, { ...fields, name: 'Another' });
  expect(late.status).toBe(409);
  expect(await late.text()).toContain('value="Another"');
  const gone = await visitor.send(path, path, { does: 'remove' });
  expect(gone.headers.get('location')).toBe('/races');
  expect((await races()).map(({ entityId }) => entityId)).not.toContain(race!.entityId);
});

test('a mechanic enters races with the own fleet’s bikes alone, and takes out no other’s', async () => {
  const { visitor, bikeId, races, store } = await opened('oak');
  const page = await visitor.text('/races/new');
  const [own, other] = [await bikeId('x1'), await bikeId('y1')];
  expect(page).toContain(`value="${own}"`);
  expect(page).not.toContain(other);
  const foreign = await visitor.send('/races/new', '/races/new', { ...RACE, bikes: [other] });
  expect(foreign.status).toBe(422);
  const response = await visitor.send('/races/new', '/races/new', { ...RACE, bikes: [own, other] });
  const race = (await races()).find(({ body }) => body.name === 'Oak Hill')!;
  expect(race.body.bikeIds).toEqual([own]);
  // The owner adds the other fleet's bike; the mechanic's change leaves it in.
  await store.write((tx) =>
    tx.facts.replace(race.id, {
      kind: 'race',
      body: { ...race.body, bikeIds: [own, other] },
      by: 'owner',
      at: NOW,
    }),
  );
  const path = `${response.headers.get('location')}/change`;
  await visitor.send(path, path, { ...RACE, name: 'Oak Hill II', bikes: [own] });
  const after = (await races()).find(({ body }) => body.name === 'Oak Hill II')!;
  expect([...after.body.bikeIds].sort()).toEqual([own, other].sort());
});

test('a fleet is added with its bikes on pages', async () => {
  const { visitor, store } = await opened();
  const made = await visitor.send('/fleets/new', '/fleets/new', { name: 'Team Reed' });
  const path = made.headers.get('location')!;
  const bike = {
    does: 'bike',
    bike: 'Race bike 9',
    type: 'gravity',
    fork: 'air',
    forkModel: 'Sample',
    shock: 'none',
  };
  const rest = { shockModel: '', since: '2026-06-01', history: 'new' };
  const added = await visitor.send(path, path, { ...bike, ...rest });
  expect(added.headers.get('location')).toBe(`${path}?done=bike`);
  const fleets = await store.read((tx) => tx.facts.list('fleet'));
  const reed = fleets.find(({ body }) => body.name === 'Team Reed')!;
  const bikes = (await store.read((tx) => tx.facts.listFleetBikes())).filter(
    ({ body }) => body.fleetId === reed.entityId,
  );
  expect(bikes.map(({ body }) => body.name)).toEqual(['Race bike 9']);
  expect(plain(await visitor.text(path.replace('/change', '')))).toContain('Race bike 9');
  const wrong = await visitor.send(path, path, { ...bike, ...rest, bike: '' });
  expect(wrong.status).toBe(422);
  expect(await wrong.text()).toContain('id="bike-wrong"');
  const named = await visitor.send(path, path, { name: 'Team Rush' });
  expect(named.headers.get('location')).toBe(`${path}?done=saved`);
});

test('the spare list of a fleet stands on the list for the truck of its races', async () => {
  const { visitor, plans } = await opened('oak');
  const path = '/fleets/t1/spares';
  const spares = {
    'part-0': 'spare axle',
    'count-0': '2',
    'measure-0': 'pieces',
    'part-1': '',
    'count-1': '',
  };
  expect((await visitor.send(path, path, spares)).headers.get('location')).toBe(`${path}?done=saved`);
  expect((await visitor.send(path, path, spares)).headers.get('location')).toBe(`${path}?done=unchanged`);
  const plan = (await plans()).find(({ race }) => race === 'r-oak')!;
  expect(plan.spares).toEqual([{ part: 'spare axle', count: 2, measure: 'pieces' }]);
  expect(plain(await visitor.text('/races/r-oak'))).toMatch(/spare axle/);
  const elm = (await plans()).find(({ race }) => race === 'r-elm')!;
  expect(elm.spares).toEqual([]);
  const wrong = await visitor.send(path, path, { ...spares, 'count-0': 'some' });
  expect(await wrong.text()).toContain('id="count-0-wrong"');
});
