/** The workshop's own service kinds: what they restart and what restarts them. */
import { expect, test } from 'vitest';
import { type TeamWorld, teamWorld } from '../teamWorld.js';
import { plain } from '../visitor.js';

const PATH = '/settings/kinds';
const kindsOf = ({ store }: TeamWorld) =>
  store.read(async (tx) => (await tx.facts.list('serviceKind')).map(({ id, body }) => ({ id, ...body })));
const clocksOf = ({ store }: TeamWorld) =>
  store.read(async (tx) => {
    const unitId = (await tx.handles.find('unit', 'F-0001'))!;
    return (await tx.facts.list('service', { subject: unitId })).map(({ body }) => body.restarts);
  });

test('a kind says what it restarts and what restarts it, and services follow', async () => {
  const world = await teamWorld();
  const owner = await world.as('owner');
  const fields = {
    unitKind: 'fork',
    name: 'seal check',
    minutes: '40',
    restarts: 'lower-leg',
    restartedBy: 'damper',
  };
  const added = await owner.send(PATH, PATH, fields);
  expect(added.headers.get('location')).toBe(`${PATH}?done=saved`);
  expect(await kindsOf(world)).toMatchObject([
    {
      ...{ name: 'seal check', benchMinutes: 40, terrainHours: null, months: null },
      ...{ restarts: ['seal check', 'lower-leg'], restartedBy: ['damper'] },
    },
  ]);
  const text = plain(await owner.text(PATH));
  expect(text).toContain('Restarts: seal check and lower-leg service.');
  expect(text).toContain('Also restarted by: full service and damper service.');
  const log = (kind: string) =>
    owner.send('/units/F-0001/service', '/units/F-0001/service', { kind, on: '2026-06-10', by: 'here' });
  await log('seal check');
  await log('damper');
  expect((await clocksOf(world)).slice(-2)).toEqual([
    ['lower-leg', 'seal check'],
    ['lower-leg', 'damper', 'seal check'],
  ]);
  // Its interval is set with a preview, on a page of its own.
  const interval = '/intervals/fork/seal%20check';
  expect(await owner.text(PATH)).toContain(`href="${interval}"`);
  expect(plain(await owner.text(`${interval}?terrainHours=40&months=&ceiling=usual`))).toMatch(
    /units would change state: .*F-0002 .*no limit in time/,
  );
});

test('it is changed and keeps its interval; two at once see each other; one that is used is not taken back', async () => {
  const world = await teamWorld();
  const owner = await world.as('owner');
  const fields = { unitKind: 'fork', name: 'seal check', minutes: '' };
  await owner.send(PATH, PATH, fields);
  const { id: fact } = (await kindsOf(world))[0]!;
  await owner.send(PATH, PATH, { ...fields, fact, minutes: '25' });
  expect(await kindsOf(world)).toMatchObject([{ benchMinutes: 25, restarts: ['seal check'] }]);
  const late = await owner.send(PATH, PATH, { ...fields, fact, minutes: '99' });
  expect(late.status).toBe(409);
  const { id } = (await kindsOf(world))[0]!;
  const same = await owner.send(PATH, PATH, { ...fields, fact: id, minutes: '25' });
  expect(same.headers.get('location')).toBe(`${PATH}?done=unchanged`);
  const log = { kind: 'seal check', on: '2026-06-10', by: 'here' };
  await owner.send('/units/F-0001/service', '/units/F-0001/service', log);
  expect((await owner.send(PATH, PATH, { fact: id, away: 'yes' })).status).toBe(409);
  expect(await kindsOf(world)).toHaveLength(1);
});

test('what cannot be a kind is told beside what was typed, and nothing is saved', async () => {
  const world = await teamWorld();
  const owner = await world.as('owner');
  for (const [wrong, status, why] of [
    [{ name: '' }, 422, 'Give it a name'],
    [{ name: 'full' }, 409, 'has the service kind'],
    [{ name: 'a/b' }, 409, ''],
    [{ minutes: 'many' }, 422, 'whole number from 1 to 1440'],
    [{ restarts: 'air-sleeve' }, 409, ''],
    [{ unitKind: 'saddle' }, 422, ''],
  ] as const) {
    const response = await owner.send(PATH, PATH, { unitKind: 'fork', name: 'polish', ...wrong });
    expect([wrong, response.status]).toEqual([wrong, status]);
    expect(plain(await response.text())).toContain(why);
  }
  expect(await kindsOf(world)).toEqual([]);
  expect((await (await world.as('tech')).get(PATH)).status).toBe(404);
});
