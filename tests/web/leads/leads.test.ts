import { expect, it } from 'vitest';
import { booked } from '../../fixtures/booked.js';
import { type TeamWorld, teamWorld } from '../teamWorld.js';
import { plain, signedIn } from '../visitor.js';
import { DOCUMENT, NOW, TODAY, webWorld } from '../webWorld.js';

const leadOf = ({ store }: TeamWorld) => store.read(async (tx) => (await tx.leads.list())[0]!);

it('a lead is booked, moved and cancelled, and the rider gets a mail each time', async () => {
  const world = await teamWorld();
  const owner = await world.as('owner');
  const { id } = await leadOf(world);
  expect(plain(await owner.text('/leads'))).toMatch(/To be booked .*F-0001.*Pia Lanternby/);
  for (const [day, shown] of [
    ['2026-06-12', 'Friday 12 June'],
    ['2026-06-16', 'Tuesday 16 June'],
  ] as const) {
    const response = await owner.send('/leads', `/leads/${id}/book`, { day });
    expect(response.headers.get('location')).toBe('/leads?done=booked');
    expect(plain(await owner.text('/leads'))).toContain(`booked for ${shown}`);
    expect(await leadOf(world)).toMatchObject({ state: 'booked', day, changedBy: 'owner' });
  }
  expect(plain(await owner.text('/bench'))).toMatch(/Tuesday 16 June F-0001/);
  const mails = () => world.store.read((tx) => tx.mails.listOfKind('booking'));
  expect(await mails()).not.toHaveLength(0);
  await owner.send('/leads', `/leads/${id}/decline`, {});
  const rows = await world.store.read((tx) => tx.leads.list());
  // What is due stands open again beside the day that was declined.
  expect(rows.map(({ state }) => state).sort()).toEqual(['declined', 'open']);
});

it('a day that has passed, is closed or is none is refused with the reason, and nothing is booked', async () => {
  const world = await teamWorld();
  const owner = await world.as('owner');
  const { id } = await leadOf(world);
  for (const [day, status, why] of [
    ['2026-06-09', 422, 'Choose a day from today on.'],
    ['someday', 422, 'Choose a day from today on.'],
    ['2026-06-14', 409, 'There is no place on Sunday 14 June'],
  ] as const) {
    const response = await owner.send('/leads', `/leads/${id}/book`, { day });
    expect(response.status).toBe(status);
    expect(plain(await response.text())).toContain(why);
  }
  expect(await leadOf(world)).toMatchObject({ state: 'open' });
  const anyway = await owner.send('/leads', `/leads/${id}/book`, { day: '2026-06-14', evenIfFull: 'yes' });
  expect(anyway.status).toBe(303);
});

it('a lead that is done leaves the list', async () => {
  const world = await teamWorld();
  const owner = await world.as('tech');
  const { id } = await leadOf(world);
  expect((await owner.send('/leads', `/leads/${id}/done`, {})).status).toBe(303);
  expect(plain(await owner.text('/leads'))).not.toContain('F-0001');
});

it('any unit is booked for any day, what else is on its bike with it, and declined it stays to be booked', async () => {
  const world = await teamWorld();
  const owner = await world.as('owner');
  // In time, on a bike of a rider who was not reminded.
  const path = '/units/F-0002/day';
  expect(plain(await owner.text(path))).toContain('Book a day: F-0002');
  const fields = { 'job-F-0002': 'damper', day: '2026-06-12' };
  const response = await owner.send(path, path, fields);
  expect(response.headers.get('location')).toMatch(/^\/leads\?done=(booked|call)$/);
  const lead = await world.store.read(async (tx) =>
    (await tx.leads.list(['booked'])).find(({ serviceKind }) => serviceKind === 'damper'),
  );
  expect(lead).toMatchObject({ day: '2026-06-12', state: 'booked' });
  await owner.send(path, path, { ...fields, other: '2026-06-16' });
  const moved = await world.store.read((tx) => tx.leads.listOf(lead!.id));
  expect(moved[0]).toMatchObject({ day: '2026-06-16', state: 'booked' });
  await owner.send('/leads', `/leads/${lead!.id}/decline`, {});
  expect(plain(await owner.text('/leads'))).toMatch(/Declined F-0002 , damper service: declined/);
  await owner.send('/leads', `/leads/${lead!.id}/book`, { day: '2026-06-17' });
  expect(await world.store.read((tx) => tx.leads.listOf(lead!.id))).toMatchObject([{ state: 'booked' }]);
  const wrong = await owner.send(path, path, { 'job-F-0002': 'damper', day: 'someday' });
  expect(wrong.status).toBe(422);
});

it('on the next day Today asks whether it came, and a day nobody spoke of ends after a week', async () => {
  const world = await teamWorld();
  const owner = await world.as('owner');
  const book = (on: string) => booked(world.store, 'F-0001', on, { at: NOW });
  await book(TODAY);
  expect(plain(await owner.text('/'))).toMatch(/Who comes today F-0001/);
  const [{ id } = { id: '' }] = await book('2026-06-09');
  expect(plain(await owner.text('/'))).toMatch(/Did it come\? .*F-0001.*Booked for Tuesday 9 June/);
  await owner.send('/', `/leads/${id}/reopen`, {});
  // The day has passed, and the unit can be booked again at once.
  expect(
    await world.store.read(async (tx) => (await tx.leads.list()).map(({ state }) => state).sort()),
  ).toEqual(['open', 'passed']);
  expect(plain(await owner.text('/'))).not.toContain('Did it come?');
  // Once it arrived, nobody asks.
  await book('2026-06-09');
  await owner.send('/', '/units/F-0001/arrive', { from: 'today' });
  expect(plain(await owner.text('/'))).not.toContain('Did it come?');
});

it('the bench lists the first days whole, and says that later ones are taken too', async () => {
  const many = Array.from({ length: 43 }, (_, n) => ({ tag: `F-9${n}`, unitKind: 'fork', history: 'new' }));
  const world = await webWorld({ document: { ...DOCUMENT, units: [...DOCUMENT.units, ...many] } });
  const owner = await signedIn(world.app);
  for (const [n, { tag }] of many.entries())
    await booked(world.store, tag, n < 30 ? '2026-06-16' : '2026-06-17', { at: NOW });
  const text = plain(await owner.text('/bench'));
  expect(text).toContain('Tuesday 16 June');
  expect([...new Set(text.match(/F-9\d+/g))]).toHaveLength(30);
  expect(text).toMatch(/Days taken Day Services Bench time Tuesday 16 June F-90 /);
  expect(text).not.toContain('Wednesday 17 June F-');
  expect(text).toContain('Later days are taken too: see the bookings');
});

it('what came and left without a service has no day any more, and can be booked again; a day to come stays', async () => {
  const world = await teamWorld();
  const owner = await world.as('owner');
  const collect = async (): Promise<void> => {
    await owner.send('/bench', '/bench/arrive', { tag: 'F-0001' });
    const fact = /name="fact" value="([^"]*)"/.exec(await owner.text('/bench'))![1]!;
    await owner.send('/bench', '/units/F-0001/step', { to: 'collected', fact, from: 'bench' });
  };
  const states = () =>
    world.store.read(async (tx) => (await tx.leads.list()).map(({ state }) => state).sort());
  await booked(world.store, 'F-0001', '2026-06-17', { at: NOW });
  await collect();
  expect(await states()).toEqual(['booked']);
  await booked(world.store, 'F-0001', TODAY, { at: NOW });
  await collect();
  expect(await states()).toEqual(['open', 'passed']);
  expect(plain(await owner.text('/leads'))).toMatch(/To be booked F-0001/);
});

it('all that was declined can be reached, the latest first', async () => {
  const many = Array.from({ length: 45 }, (_, n) => ({
    tag: `F-9${String(n).padStart(2, '0')}`,
    unitKind: 'fork',
    history: 'new',
  }));
  const world = await webWorld({ document: { ...DOCUMENT, units: [...DOCUMENT.units, ...many] } });
  const owner = await signedIn(world.app);
  for (const [n, { tag }] of many.entries()) {
    const on = `2026-07-${String(1 + (n % 28)).padStart(2, '0')}`;
    const [{ id } = { id: '' }] = await booked(world.store, tag, on, { at: NOW });
    await owner.send('/leads', `/leads/${id}/decline`, {});
  }
  const seen = new Set<string>();
  let [path, pages] = ['/leads', 0];
  while (path !== '' && pages++ < 5) {
    const page = await owner.text(path);
    const declined = page.slice(page.indexOf('id="declined"'));
    const found = [...declined.matchAll(/\/units\/(F-9\d+)"/g)].map(([, tag]) => tag!);
    if (pages === 1) expect(found).toHaveLength(20);
    for (const tag of found) seen.add(tag);
    path = /href="(\/leads\?declined=\d+)#declined"/.exec(declined)?.[1] ?? '';
  }
  expect(seen.size).toBe(45);
});
