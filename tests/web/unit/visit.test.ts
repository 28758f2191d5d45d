/** What a unit comes for: larger and smaller jobs, others of the same visit, new rings. Common practice, no source. */
import { expect, test } from 'vitest';
import { plain, signedIn, type Visitor } from '../visitor.js';
import { DOCUMENT, type WebWorld, webWorld } from '../webWorld.js';

const after = (serviceKind: string, terrainHours: number) => ({
  ...{ unitKind: 'fork', serviceKind, terrainHours, months: null, movingHoursCeiling: null },
  scope: { fleet: null, model: null, unit: null },
});

async function opened(...intervals: object[]): Promise<WebWorld & { visitor: Visitor }> {
  const world = await webWorld({ document: { ...DOCUMENT, intervals } });
  return { ...world, visitor: await signedIn(world.app) };
}

const leadOf = ({ store }: WebWorld) =>
  store.read(async (tx) => (await tx.leads.listOfUnit((await tx.handles.find('unit', 'F-0001'))!))[0]);

test('card and page say in hours why a larger job takes the place of a smaller one', async () => {
  // 45 hours on a lower-leg interval of 44; of 50 hours to the full service 5 are left: a tenth, so at most a fifth.
  const { visitor } = await opened(after('lower-leg', 44), after('full', 50));
  const why =
    /In place of a smaller job: 5.h of 50.h left .*\(terrain hours\)\. The smaller job can be chosen\./;
  const page = plain(await visitor.text('/units/F-0001'));
  expect(page).toContain('It comes for: full service.');
  expect(page).toMatch(why);
  const card = await visitor.text('/units/F-0001/card');
  expect(card).toMatch(/box ticked">×<\/span>full service/);
  expect(plain(card)).toMatch(why);
  // Of 60 hours 15 are left, a quarter.
  const other = await opened(after('lower-leg', 44), after('full', 60));
  expect(plain(await other.visitor.text('/units/F-0001'))).toContain('It comes for: lower-leg service.');
  expect(plain(await other.visitor.text('/units/F-0001'))).not.toContain('In place of');
});

test('the page of bookings offers the smaller job beside the larger one, and books the one chosen', async () => {
  const world = await opened(after('lower-leg', 44), after('full', 50));
  await world.store.write(async (tx) => {
    const unitId = (await tx.handles.find('unit', 'F-0001'))!;
    const standing = (await tx.standings.listOf(unitId)).find((one) => one.serviceKind === 'lower-leg')!;
    await tx.leads.addOpen({
      ...{ unitId, riderId: null, serviceKind: 'full', wanted: 'lower-leg', beside: [], benchMinutes: 150 },
      ...{ periodId: standing.periodId, periodStart: standing.periodStart },
      ...{ madeAt: standing.asOf, changedBy: 'test' },
    });
  });
  const { id } = (await leadOf(world))!;
  const text = plain(await world.visitor.text('/leads'));
  expect(text).toMatch(/Which job full service lower-leg service/);
  await world.visitor.send('/leads', `/leads/${id}/book`, { day: '2026-06-12', job: 'smaller' });
  expect(await leadOf(world)).toMatchObject({
    ...{ state: 'booked', serviceKind: 'lower-leg', benchMinutes: 60, day: '2026-06-12' },
  });
  expect(plain(await world.visitor.text('/leads'))).not.toContain('Which job');
});

test('what comes along on a visit stays with it when a day is booked, but for what a larger job includes', async () => {
  const path = '/units/F-0001/day';
  const book = async (job: string, beside: Readonly<Record<string, string>>) => {
    const world = await opened(after('air-spring', 44), after('damper', 44));
    const text = plain(await world.visitor.text(path));
    expect(text).toContain('With it, on the same visit: damper service');
    await world.visitor.send(path, path, { 'job-F-0001': job, day: '2026-06-12', ...beside });
    return leadOf(world);
  };
  const along = { 'beside-F-0001-damper': 'yes' };
  // 90 minutes and 120 more.
  expect(await book('air-spring', along)).toMatchObject({ beside: ['damper'], benchMinutes: 210 });
  expect(await book('air-spring', {})).toMatchObject({ beside: [], benchMinutes: 90 });
  expect(await book('full', along)).toMatchObject({ serviceKind: 'full', beside: [], benchMinutes: 150 });
});

const isChosen = (markup: string, name: string, value: string): boolean =>
  new RegExp(`name="${name}" value="${value}" checked`).test(markup);

test('a full service done here has new rings and wipers unless the form is changed', async () => {
  const path = '/units/F-0001/service';
  const { visitor, store } = await opened(after('full', 44));
  const form = await visitor.text(path);
  expect(isChosen(form, 'foamRingsNow', 'new') && isChosen(form, 'wipersNow', 'new')).toBe(true);
  const fields = { kind: 'full', on: '2026-06-10', by: 'here', renewed: 'yes', wipersNow: 'new' };
  // Another job, or one done elsewhere, keeps nothing that nobody said.
  const rings = { foamRingsNow: 'new' };
  for (const other of [{ kind: 'lower-leg' }, { by: 'another-workshop' }]) {
    const refused = await visitor.send(path, path, { ...fields, ...rings, ...other });
    expect(refused.status).toBe(422);
    const again = await refused.text();
    expect(plain(again)).toContain('New rings and wipers were already chosen');
    expect(isChosen(again, 'foamRingsNow', 'new')).toBe(false);
  }
  expect((await visitor.send(path, path, { ...fields, foamRingsNow: 'put-back' })).status).toBe(303);
  const logged = await store.read((tx) => tx.facts.list('service'));
  expect(logged.map(({ body }) => body.findings)).toEqual([{ foamRingsNow: 'put-back', wipersNow: 'new' }]);
  expect(plain(await visitor.text('/units/F-0001'))).toMatch(/Foam rings 45.h old, second time round/);
});

test('the form of a smaller job has nothing chosen, and a fork’s word on rings is none of a shock’s', async () => {
  const { visitor } = await opened();
  expect(isChosen(await visitor.text('/units/F-0001/service'), 'foamRingsNow', 'new')).toBe(false);
  const shock = await visitor.send('/units/A-0001/service', '/units/A-0001/service', {
    ...{ kind: 'full', on: '2026-06-10', by: 'here', show: 'parts' },
  });
  const form = await shock.text();
  expect(isChosen(form, 'wipersNow', 'new')).toBe(true);
  expect(form).not.toContain('foamRingsNow');
});
