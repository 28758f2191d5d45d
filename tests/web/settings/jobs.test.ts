/** Minutes, prices and parts of jobs: what is saved is what stands there, and what the bench and mails go by. */
import { expect, test } from 'vitest';
import { benchMinutesOf } from '../../../src/flow/plan/leadDays.js';
import { listShelf, listTaken } from '../../../src/flow/plan/partsShelf.js';
import { getWorkshop } from '../../../src/flow/settings.js';
import { plain, signedIn } from '../visitor.js';
import { DOCUMENT, webWorld } from '../webWorld.js';

const JOBS = '/settings/jobs';
const PARTS = '/settings/parts/fork/lower-leg';
const SHELF = '/settings/shelf';

async function opened() {
  const serviceKinds = [{ unitKind: 'fork', name: 'stanchion-polish', terrainHours: 30, benchMinutes: 40 }];
  const world = await webWorld({ document: { ...DOCUMENT, serviceKinds } });
  const owner = await signedIn(world.app);
  const send = (path: string, fields: Record<string, string>) => owner.send(path, path, fields);
  const fact = async () => /name="fact" value="([^"]+)"/.exec(await owner.text(JOBS))![1]!;
  const minutes = (job: string) =>
    world.store.read(async (tx) => benchMinutesOf(tx, (await tx.handles.find('unit', 'F-0001'))!, [job]));
  const taken = (model: string | null) =>
    world.store.read((tx) => listTaken(tx, { unitKind: 'fork', model } as never, 'lower-leg'));
  return { ...world, owner, send, fact, minutes, taken };
}

test('minutes of a job are the bench’s at once; empty ones are the usual again', async () => {
  const { send, fact, minutes, owner, store } = await opened();
  expect(await minutes('lower-leg')).toBe(60);
  await send(JOBS, { fact: await fact(), 'minutes-fork-lower-leg': '75' });
  expect(await minutes('lower-leg')).toBe(75);
  expect(await owner.text(JOBS)).toContain('value="75"');
  expect(plain(await owner.text(JOBS))).toContain('usually 60');
  await send(JOBS, { fact: await fact(), 'minutes-fork-lower-leg': '' });
  expect(await minutes('lower-leg')).toBe(60);
  expect((await store.read(getWorkshop)).jobMinutes).toEqual([]);
});

test('a job without a clock has minutes too; a kind of the workshop’s own keeps them itself', async () => {
  const { send, fact, minutes, store } = await opened();
  const fields = { 'minutes-fork-seal-repair': '45', 'minutes-fork-stanchion-polish': '25' };
  await send(JOBS, { fact: await fact(), ...fields });
  expect([await minutes('seal-repair'), await minutes('stanchion-polish')]).toEqual([45, 25]);
  const [own] = await store.read((tx) => tx.facts.list('serviceKind'));
  expect(own!.body.benchMinutes).toBe(25);
  expect((await store.read(getWorkshop)).jobMinutes).toEqual([
    { unitKind: 'fork', serviceKind: 'seal-repair', minutes: 45 },
  ]);
});

test('price and time stand in mails as typed, and are gone when they are empty', async () => {
  const { send, fact, store, owner } = await opened();
  const of = (price: string, turnaround: string) => ({
    'price-fork-lower-leg': price,
    'turnaround-fork-lower-leg': turnaround,
  });
  const response = await send(JOBS, { fact: await fact(), ...of('from 85', 'two days') });
  expect(response.headers.get('location')).toBe(`${JOBS}?done=saved`);
  const offers = async () => (await store.read(getWorkshop)).offers;
  expect(await offers()).toEqual([
    { unitKind: 'fork', serviceKind: 'lower-leg', price: 'from 85', turnaround: 'two days' },
  ]);
  expect(await owner.text(JOBS)).toContain('value="from 85"');
  const same = await send(JOBS, { fact: await fact(), ...of('from 85', 'two days') });
  expect(same.headers.get('location')).toBe(`${JOBS}?done=unchanged`);
  await send(JOBS, { fact: await fact(), ...of('', ' ') });
  expect(await offers()).toEqual([]);
});

test.each([
  ['minutes-fork-lower-leg', '0', 'from 1 to 1440'],
  ['minutes-fork-lower-leg', '1h', 'from 1 to 1440'],
  ['price-fork-lower-leg', 'x'.repeat(61), 'At most 60 characters'],
  ['price-fork-lower-leg', 'a\u2028b', 'At most 60 characters'],
])(
  'a wrong %s is told beside its field; what else was typed stays, nothing is saved',
  async (name, typed, message) => {
    const { send, fact, store } = await opened();
    const seen = await fact();
    const response = await send(JOBS, { fact: seen, 'turnaround-fork-full': 'a week', [name]: typed });
    expect(response.status).toBe(422);
    const text = await response.text();
    expect(text).toContain(`id="${name}-wrong"`);
    expect(text).toContain('value="a week"');
    expect(plain(text)).toContain(message);
    expect((await store.read(getWorkshop)).offers ?? []).toEqual([]);
  },
);

const line = (at: number, part: string, count: string, measure = 'pieces', id = '') => ({
  ...{ [`id-${at}`]: id, [`part-${at}`]: part, [`count-${at}`]: count, [`measure-${at}`]: measure },
});
const idsOn = (page: string): string[] =>
  [...page.matchAll(/name="id-\d+" value="([^"]+)"/g)].map(([, id]) => id!);

test('what a job takes is typed line by line, changed and taken away; a model may have a list of its own', async () => {
  const { send, owner, taken } = await opened();
  await send(PARTS, {
    model: '',
    ...line(0, 'foam ring', '2'),
    ...line(1, 'bath oil', '7,5', 'ml'),
    ...line(2, '', ''),
  });
  expect(await taken(null)).toEqual([
    { part: 'foam ring', count: 2, measure: 'pieces' },
    { part: 'bath oil', count: 7.5, measure: 'ml' },
  ]);
  const [rings, oil] = idsOn(await owner.text(PARTS));
  await send(PARTS, {
    model: '',
    ...line(0, 'foam ring', '3', 'pieces', rings),
    ...line(1, '', '', 'ml', oil),
  });
  expect(await taken(null)).toEqual([{ part: 'foam ring', count: 3, measure: 'pieces' }]);
  const own = { model: 'Sample fork T-150', ...line(0, 'wide foam ring', '') };
  const response = await send(PARTS, own);
  expect(response.headers.get('location')).toBe(`${PARTS}?model=Sample+fork+T-150&done=saved`);
  expect(await taken('Sample fork T-150')).toEqual([{ part: 'wide foam ring', count: 1, measure: 'pieces' }]);
  expect(await taken('another')).toHaveLength(1);
  expect(plain(await owner.text(PARTS))).toContain('Sample fork T-150 (own parts)');
});

test.each([
  ['count-0', line(0, 'foam ring', 'two')],
  ['count-0', line(0, 'foam ring', '0')],
  ['part-1', { ...line(0, 'foam ring', '1'), ...line(1, 'foam ring', '2') }],
  ['part-0', line(0, 'x'.repeat(201), '1')],
])('a wrong %s is told beside it, and no line is saved', async (name, fields) => {
  const { send, store } = await opened();
  const response = await send(PARTS, { model: '', ...fields });
  expect(response.status).toBe(422);
  expect(await response.text()).toContain(`id="${name}-wrong"`);
  expect(await store.read((tx) => tx.facts.list('part'))).toEqual([]);
});

test('a line that somebody changed meanwhile is not overwritten', async () => {
  const { send, owner, taken } = await opened();
  await send(PARTS, { model: '', ...line(0, 'foam ring', '2') });
  const [id] = idsOn(await owner.text(PARTS));
  await send(PARTS, { model: '', ...line(0, 'foam ring', '4', 'pieces', id) });
  const late = await send(PARTS, { model: '', ...line(0, 'foam ring', '9', 'pieces', id) });
  expect(late.status).toBe(409);
  expect(await taken(null)).toEqual([{ part: 'foam ring', count: 4, measure: 'pieces' }]);
});

test('a line cannot stand in the place of another job’s, nor of anything else', async () => {
  const { send, owner, store } = await opened();
  await send(PARTS, { model: '', ...line(0, 'foam ring', '2') });
  const [id] = idsOn(await owner.text(PARTS));
  const unit = (await store.read((tx) => tx.facts.list('unit')))[0]!;
  for (const foreign of [id!, unit.id])
    await send('/settings/parts/fork/full', { model: '', ...line(0, 'wiper', '2', 'pieces', foreign) });
  const parts = await store.read((tx) => tx.facts.list('part'));
  expect(parts.find((one) => one.body.serviceKind === 'lower-leg')?.body.part).toBe('foam ring');
  expect((await store.read((tx) => tx.facts.current('unit', unit.entityId)))!.id).toBe(unit.id);
});

test('a job that is none has no page', async () => {
  const { owner } = await opened();
  expect((await owner.get('/settings/parts/fork/air-sleeve')).status).toBe(404);
  expect((await owner.get('/settings/parts/saddle/full')).status).toBe(404);
});

test('the shelf is counted part by part; only what differs is written down', async () => {
  const { send, owner, store } = await opened();
  expect(plain(await owner.text(SHELF))).toContain('No job has parts yet');
  await send(PARTS, { model: '', ...line(0, 'foam ring', '2') });
  const count = (typed: string, days = '4') => ({ 'part-0': 'foam ring', 'count-0': typed, 'days-0': days });
  expect((await send(SHELF, count('30'))).headers.get('location')).toBe(`${SHELF}?done=saved`);
  expect((await send(SHELF, count('30'))).headers.get('location')).toBe(`${SHELF}?done=unchanged`);
  await send(SHELF, { ...count(''), 'part-new': 'axle bolt', 'count-new': '3', 'days-new': '' });
  const shelf = await store.read((tx) => listShelf(tx, []));
  expect(shelf.map(({ part, left, deliveryDays }) => [part, left, deliveryDays])).toEqual([
    ['foam ring', 30, 4],
    ['axle bolt', 3, 0],
  ]);
  const bad = await send(SHELF, { ...count('30'), 'part-new': 'cap', 'count-new': 'few' });
  expect(bad.status).toBe(422);
  expect(await bad.text()).toContain('id="count-new-wrong"');
});
