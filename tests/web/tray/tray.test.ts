import { expect, test } from 'vitest';
import { listDue } from '../../../src/flow/due/listDue.js';
import { allRides } from '../../fixtures/allRides.js';
import { take } from '../takeTrack.js';
import { plain, signedIn } from '../visitor.js';
import { NOW, type WebWorld, webWorld } from '../webWorld.js';

const hoursOf = async ({ store }: WebWorld, unit: string): Promise<number> =>
  (await store.read((tx) => listDue(tx, NOW))).find((row) => row.unit === unit)!.movingHoursSince;

const formsOn = (markup: string): string[] =>
  [...markup.matchAll(/action="(\/tray\/[^"]+)"/g)].map(([, path]) => path!);

test('a ride of nobody is asked about, named in the navigation, and counts once its rider is said', async () => {
  const world = await webWorld();
  const visitor = await signedIn(world.app);
  expect(plain(await visitor.text('/tray'))).toContain('The tray is empty.');
  expect(await take(world, { name: 'who <knows>.gpx', type: 'cycling' })).toBe('ask who');
  const markup = await visitor.text('/tray');
  expect(plain(markup)).toContain('Tray (1)');
  expect(plain(markup)).toContain('Whose ride is this? File who <knows>.gpx Started 8 June, 08:00');
  const [form] = formsOn(markup);
  const response = await visitor.send('/tray', form!, { say: 'rider', rider: 'r1' });
  const location = response.headers.get('location')!;
  expect(location).toMatch(/^\/tray\?done=counted&ride=/);
  expect(plain(await visitor.text(location))).toMatch(
    /It counts now: [\d.]+ h on F-0001\. The tray is empty\./,
  );
  // 1800 s of riding besides the 45 hours by hand.
  expect(await hoursOf(world, 'F-0001')).toBe(45.5);
});

test('an indoor ride that is answered for is kept, and said to count for no unit', async () => {
  const world = await webWorld();
  const visitor = await signedIn(world.app);
  await take(world, { name: 'cellar.gpx', type: 'indoor_cycling' });
  const [form] = formsOn(await visitor.text('/tray'));
  const response = await visitor.send('/tray', form!, { say: 'rider', rider: 'r1' });
  const path = response.headers.get('location')!;
  expect(plain(await visitor.text(path))).toContain('Ridden indoors, it counts for no unit.');
  expect(await hoursOf(world, 'F-0001')).toBe(45);
});

test('rider and bike are one answer, the folder that says nothing is named, and Today then knows whose it is', async () => {
  const world = await webWorld();
  const visitor = await signedIn(world.app);
  const name = 'r9/ride.gpx';
  await take(world, { name, type: 'cycling' });
  expect(plain(await visitor.text('/tray'))).not.toContain('is no rider’s id');
  const seen = { path: name, bytes: 1, modifiedMs: 0, stamp: 'x', seenAt: NOW, settled: true };
  await world.store.write((tx) => tx.inbox.put({ ...seen, outcome: 'ask', code: 'who', said: null }));
  const markup = await visitor.text('/tray');
  expect(plain(markup)).toContain('File r9/ride.gpx The folder “r9” is no rider’s id.');
  expect(plain(await visitor.text('/'))).toMatch(/r9\/ride\.gpx .*nobody known yet/);
  const [form] = formsOn(markup);
  const none = await visitor.send('/tray', form!, { say: 'who', rider: '', bike: '' });
  expect(none.status).toBe(422);
  await visitor.send('/tray', form!, { say: 'who', rider: 'r1', bike: 'b2' });
  const ride = (await world.store.read((tx) => allRides(tx))).find((one) => one.source === 'recorded')!;
  const ids = await world.store.read(async (tx) => ({
    riderId: await tx.handles.find('rider', 'r1'),
    bikeId: await tx.handles.find('bike', 'b2'),
  }));
  expect(ride).toMatchObject({ ...ids, question: null });
  expect(plain(await visitor.text('/'))).not.toContain('nobody known yet');
});

test('a bike may be named instead, and a ride may be none', async () => {
  const world = await webWorld();
  const visitor = await signedIn(world.app);
  await take(world, { name: 'a.gpx', type: 'cycling' });
  await take(world, { name: 'b.gpx', type: 'cycling', startMs: Date.parse('2026-06-09T07:00:00Z') });
  const forms = [...new Set(formsOn(await visitor.text('/tray')))];
  expect(forms).toHaveLength(2);
  await visitor.send('/tray', forms[0]!, { say: 'bike', bike: 'b2' });
  expect(await hoursOf(world, 'F-0002')).toBe(0.5);
  const response = await visitor.send('/tray', forms[1]!, { say: 'no' });
  expect(response.headers.get('location')).toMatch(/^\/tray\?done=kept&ride=/);
  expect(plain(await visitor.text('/tray'))).toContain('The tray is empty.');
});

test('a track without times counts for the minutes that somebody says, at the time of the place', async () => {
  const world = await webWorld();
  const visitor = await signedIn(world.app);
  expect(await take(world, { name: 'plan.gpx', rider: 'r1', hasTimes: false, type: 'cycling' })).toBe(
    'ask no-times',
  );
  const markup = await visitor.text('/tray');
  expect(plain(markup)).toContain('This track has no times.');
  const [form] = formsOn(markup);
  const fields = { say: 'on-minutes', on: '2026-06-08', at: '09:30', minutes: '75' };
  for (const [wrong, message] of [
    [{ minutes: '' }, 'Write the time ridden in minutes'],
    [{ at: '9.30' }, 'Write the time'],
    [{ on: '2026-06-11' }, 'Choose a day'],
    [{ on: '2026-06-10', at: '23:00' }, 'Choose a day'],
    [{ say: 'maybe' }, 'Choose one from the list.'],
  ] as const) {
    const refused = await visitor.send('/tray', form!, { ...fields, ...wrong });
    expect(refused.status).toBe(422);
    expect(await refused.text()).toContain(message);
  }
  const response = await visitor.send('/tray', form!, fields);
  expect(response.headers.get('location')).toMatch(/^\/tray\?done=counted&ride=/);
  expect(await hoursOf(world, 'F-0001')).toBe(46.25);
  const ride = (await world.store.read((tx) => allRides(tx))).find((one) => one.source === 'recorded')!;
  // Summer time of the IANA data: 09:30 in the zone is 08:30 by UTC.
  expect(ride.start).toBe(Date.parse('2026-06-08T08:30:00Z'));
});

test('an answer to a question that is gone is refused, naming it', async () => {
  const world = await webWorld();
  const visitor = await signedIn(world.app);
  const response = await visitor.send('/', '/tray/no-such-ride', { say: 'no' });
  expect(response.status).toBe(404);
});

test('files that could not be used are listed with the reason', async () => {
  const { app, store } = await webWorld();
  const row = { bytes: 0, modifiedMs: 0, stamp: '', seenAt: NOW, settled: true, code: 'empty' };
  await store.write(async (tx) => {
    await tx.inbox.put({ ...row, path: 'r1/<b>.fit', outcome: 'set-aside', said: null });
    await tx.inbox.put({ ...row, path: 'r1/fine.fit', outcome: 'counted', said: null });
  });
  const text = plain(await (await signedIn(app)).text('/tray'));
  expect(text).toContain('r1/<b>.fit It is empty. Export it again. 10 June, 10:00');
  expect(text).not.toContain('fine.fit');
});

test('46 rides that ask for their bike are answered in two taps: those of some days, and all the rest', async () => {
  const world = await webWorld();
  const visitor = await signedIn(world.app);
  const DAY_MS = 86_400_000;
  for (let i = 0; i < 46; i++)
    await take(world, {
      name: `season/${i}.gpx`,
      type: 'cycling',
      startMs: Date.parse('2026-04-01T07:00:00Z') + i * DAY_MS,
    });
  const page = await visitor.text('/tray');
  expect(plain(page)).toContain('46 rides from season: on which bike?');
  expect(plain(page)).toContain('All on Green trail bike (b1), Pia Lanternby');
  const group = page.split('action="/tray"')[1]!.split('</form>')[0]!;
  const ride = [...group.matchAll(/name="ride" value="([^"]+)"/g)].map(([, id]) => id!);
  expect(ride).toHaveLength(46);
  const first = await visitor.send('/tray', '/tray', { ride, bike: 'b1', from: '2026-04-17' });
  expect(first.headers.get('location')).toBe('/tray?done=many&answered=30&left=0');
  expect(plain(await visitor.text(first.headers.get('location')!))).toContain('30 counted.');
  const rest = await visitor.send('/tray', '/tray', { ride, bike: 'b2' });
  expect(rest.headers.get('location')).toBe('/tray?done=many&answered=16&left=0');
  expect(plain(await visitor.text('/tray'))).toContain('The tray is empty.');
  expect(await hoursOf(world, 'F-0001')).toBe(60);
  const none = await visitor.send('/', '/tray', { ride, bike: 'b1' });
  expect(none.status).toBe(422);
});
