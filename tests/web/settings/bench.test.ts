/** What the bench can take is set on small pages, and days are offered by it at once. */
import { expect, test } from 'vitest';
import { listOfferedDays } from '../../../src/flow/plan/leadDays.js';
import { getWorkshop } from '../../../src/flow/settings.js';
import { plain, signedIn } from '../visitor.js';
import { DOCUMENT, NOW, webWorld } from '../webWorld.js';

const BENCH = '/settings/bench';
const CLOSED = '/settings/closed';
const PEOPLE = '/settings/people';
const SET = { minutes: '300', places: '4', raceDays: '2' };
const ALMA = { does: 'add', name: 'Alma', days: ['wed', 'thu'], minutes: '240' };

async function opened(workshop: object = {}) {
  const world = await webWorld({
    document: { ...DOCUMENT, workshop: { ...DOCUMENT.workshop, ...workshop } },
  });
  const owner = await signedIn(world.app);
  const send = (path: string, fields: Record<string, string | readonly string[]>) =>
    owner.send(path, path, fields);
  const fact = async (path: string) => /name="fact" value="([^"]+)"/.exec(await owner.text(path))![1]!;
  const offered = (count = 2) =>
    world.store.read(async (tx) => {
      const unitId = (await tx.handles.find('unit', 'F-0003'))!;
      return listOfferedDays(tx, { units: [{ unitId, jobs: ['lower-leg'] }], count }, NOW);
    });
  const book = (day: string) =>
    owner.send('/units/F-0001/day', '/units/F-0001/day', { day, does: 'book', service: 'lower-leg' });
  return { ...world, owner, send, fact, offered, book, workshop: () => world.store.read(getWorkshop) };
}

test('minutes, places and days before a race are saved; other words of the workshop stay', async () => {
  const { send, fact, workshop, owner } = await opened({ closedDays: ['2026-08-01'] });
  const response = await send(BENCH, { ...SET, fact: await fact(BENCH) });
  expect(response.headers.get('location')).toBe(`${BENCH}?done=saved`);
  expect(await workshop()).toMatchObject({
    ...{ placesAWeek: 4, benchMinutesADay: 300, raceOpenDays: 2, closedDays: ['2026-08-01'] },
  });
  expect(await owner.text(BENCH)).toContain('value="300"');
  await send(BENCH, { ...SET, places: '' });
  expect(await workshop()).toMatchObject({ placesAWeek: null });
});

test.each([
  ['minutes', { minutes: '0' }, 'from 10 to 10 000'],
  ['places', { places: '0' }, 'from 1 to 1000'],
  ['raceDays', { raceDays: 'two' }, 'from 0 to 30'],
])('a wrong %s is told beside its field, and what was typed stays', async (name, wrong, message) => {
  const { send, store } = await opened();
  const before = await store.read((tx) => tx.facts.count());
  const response = await send(BENCH, { minutes: '277', places: '12', raceDays: '9', ...wrong });
  expect(response.status).toBe(422);
  const text = await response.text();
  expect(text).toContain(`id="${name}-wrong"`);
  expect(plain(text)).toContain(message);
  for (const typed of ['277', '12', '9', ...Object.values(wrong)].filter(
    (one) => name !== 'minutes' || one !== '277',
  ))
    if (!(typed === '12' && name === 'places') && !(typed === '9' && name === 'raceDays'))
      expect(text).toContain(`value="${typed}"`);
  expect(await store.read((tx) => tx.facts.count())).toBe(before);
});

test('a closed day is offered to nobody, until it is opened again', async () => {
  const { send, owner, offered, workshop } = await opened();
  const [first] = await offered();
  const closed = await send(CLOSED, { from: first!, to: '' });
  expect(closed.headers.get('location')).toBe(`${CLOSED}?done=saved`);
  expect(await offered()).not.toContain(first);
  expect((await workshop()).closedDays).toEqual([first]);
  expect(await owner.text(CLOSED)).toContain(`name="open" value="${first}"`);
  await send(CLOSED, { open: first!, openTo: first! });
  expect(await offered()).toContain(first);
});

test('days in a row are one line, opened as one; a holiday comes back in the years after', async () => {
  const { send, owner, workshop } = await opened();
  await send(CLOSED, { from: '2026-08-10', to: '2026-08-21' });
  await send(CLOSED, { from: '2026-12-25', yearly: 'yes' });
  const { closedDays } = await workshop();
  expect(closedDays).toHaveLength(12 + 5);
  expect(closedDays).toContain('2030-12-25');
  const text = plain(await owner.text(CLOSED));
  expect(text).toContain('10–21 August');
  await send(CLOSED, { open: '2026-08-10', openTo: '2026-08-21' });
  expect((await workshop()).closedDays).toHaveLength(5);
  expect(plain(await owner.text('/settings'))).toContain('Next: Friday 25 December');
});

test('a leap day closes no day of a year that has none', async () => {
  const { send, workshop } = await opened();
  await send(CLOSED, { from: '2028-02-29', yearly: 'yes' });
  expect((await workshop()).closedDays).toEqual(['2028-02-29', '2032-02-29']);
});

test.each([
  ['from', { from: '' }, 'Choose the first day.'],
  ['to', { from: '2026-07-10', to: '2026-07-01' }, 'Choose a last day'],
  ['to', { from: '2026-07-10', to: '2029-07-01' }, 'Choose a last day'],
])('a stretch with a wrong %s is refused beside its field', async (name, wrong, message) => {
  const { send, workshop } = await opened();
  const response = await send(CLOSED, wrong);
  expect(response.status).toBe(422);
  const text = await response.text();
  expect(text).toContain(`id="${name}-wrong"`);
  expect(plain(text)).toContain(message);
  expect((await workshop()).closedDays ?? []).toEqual([]);
});

test('the bench has the minutes of who works that day, and none where all are away', async () => {
  const { send, owner, offered, workshop } = await opened();
  expect((await send(PEOPLE, ALMA)).headers.get('location')).toBe(`${PEOPLE}?done=saved`);
  // Wednesdays and Thursdays alone: 11, 17, 18 June.
  expect(await offered(3)).toEqual(['2026-06-11', '2026-06-17', '2026-06-18']);
  await send(PEOPLE, { does: 'away', person: 'Alma', from: '2026-06-11', to: '2026-06-17' });
  expect(await offered(1)).toEqual(['2026-06-18']);
  expect(plain(await owner.text(PEOPLE))).toContain('Away: 11–17 June');
  await send(PEOPLE, { does: 'back', person: 'Alma', from: '2026-06-11', to: '2026-06-17' });
  expect(await offered(1)).toEqual(['2026-06-11']);
  expect(plain(await owner.text('/settings'))).toContain('Alma');
  await send(PEOPLE, { does: 'remove', person: 'Alma' });
  expect((await workshop()).people).toEqual([]);
  expect(await offered(1)).toEqual(['2026-06-11']);
});

test('days of two people add up, and a long job needs both', async () => {
  const { send, store } = await opened({ people: [{ name: 'Alma', days: ['wed'], minutesADay: 100 }] });
  await send(PEOPLE, { ...ALMA, name: 'Bo', days: ['wed'], minutes: '60' });
  const { people } = await store.read(getWorkshop);
  expect(people).toEqual([
    { name: 'Alma', days: ['wed'], minutesADay: 100, off: [] },
    { name: 'Bo', days: ['wed'], minutesADay: 60, off: [] },
  ]);
});

test.each([
  ['name', { name: ' ' }, 'Write a name'],
  ['name', { name: 'alma' }, 'alma is already here'],
  ['minutes', { name: 'Bo', minutes: '0' }, 'from 1 to 1440'],
  ['minutes', { name: 'Bo', minutes: '2000' }, 'from 1 to 1440'],
])('a person with a wrong %s is refused beside the field, all typed kept', async (name, wrong, message) => {
  const { send, workshop } = await opened();
  await send(PEOPLE, ALMA);
  const response = await send(PEOPLE, { ...ALMA, days: ['fri'], ...wrong });
  expect(response.status).toBe(422);
  const text = await response.text();
  expect(text).toContain(`id="${name}-wrong"`);
  expect(plain(text)).toContain(message);
  expect(text).toMatch(/value="fri" checked/);
  expect((await workshop()).people).toHaveLength(1);
});

test('a person without a day is refused', async () => {
  const { send } = await opened();
  const response = await send(PEOPLE, { ...ALMA, days: [] });
  expect(plain(await response.text())).toContain('Tick at least one day.');
});

test('two who change different things do not hinder each other; the same thing shows who was first', async () => {
  const { send, fact, workshop } = await opened();
  const seen = await fact(BENCH);
  await send(CLOSED, { from: '2026-07-10' });
  expect((await send(BENCH, { ...SET, fact: seen })).status).toBe(303);
  expect(await workshop()).toMatchObject({ closedDays: ['2026-07-10'], placesAWeek: 4 });
  const late = await send(BENCH, { ...SET, places: '9', fact: seen });
  expect(late.status).toBe(409);
  expect(plain(await late.text())).toContain('owner has changed this');
  expect(await workshop()).toMatchObject({ placesAWeek: 4 });
});
