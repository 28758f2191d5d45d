/** By which ways files come, and a recorder's folder read at the workshop. */
import { expect, it } from 'vitest';
import { rideFile } from '../../flow/flowWorld.js';
import { RiderWorld } from '../../flow/riderWorld.js';
import { signedIn, type Visitor } from '../visitor.js';
import { cheapHash, NAME, PASSWORD } from '../webWorld.js';

const ORIGIN = 'http://localhost';

async function opened(role: 'owner' | 'mechanic' = 'owner') {
  const world = await RiderWorld.open({ publicUrl: ORIGIN });
  await world.store.write((tx) => tx.accounts.add({ name: NAME, passwordHash: cheapHash(PASSWORD), role }));
  return { world, visitor: await signedIn(world.app) };
}

const ride = (day: number, serial: string): Uint8Array =>
  rideFile(`2026-06-0${day}T08:00:00Z`, 60, { serial, loopM: 900 });

async function sent(
  world: RiderWorld,
  visitor: Visitor,
  files: readonly (readonly [name: string, bytes: Uint8Array])[],
  { rider = '', token = null as string | null, origin = ORIGIN } = {},
): Promise<Response> {
  const body = new FormData();
  body.set('token', token ?? (await visitor.tokenOn('/ways')));
  body.set('rider', rider);
  for (const [name, bytes] of files) body.append('files', new Blob([Buffer.from(bytes)]), name);
  return world.app.request(`${ORIGIN}/ways/files`, {
    method: 'POST',
    headers: { origin, cookie: visitor.cookie },
    body,
  });
}

it('a folder of two riders’ rides sorts itself by their recorders, and what came before adds nothing', async () => {
  const { world, visitor } = await opened();
  for (const [rider, serial] of [
    ['r1', '3911111111'],
    ['r2', '3922222222'],
  ] as const)
    for (const day of [1, 2]) await world.flow.take(ride(day, serial), { name: `${rider}.fit`, rider });
  const files = [
    ['Activity/1.fit', ride(3, '3911111111')],
    ['Activity/2.fit', ride(4, '3922222222')],
    ['Activity/3.fit', ride(1, '3911111111')],
    ['Settings/list.txt', new TextEncoder().encode('no ride')],
    ['Activity/4.fit', ride(5, '3933333333')],
  ] as const;
  const answer = await sent(world, visitor, files);
  // A page of its own tells, so that a reload sends nothing.
  expect([answer.status, answer.headers.get('location')]).toEqual([303, '/ways?read']);
  const answered = await visitor.text('/ways?read');
  expect(answered).toContain('<li>2 files: It counts.</li>');
  expect(answered).toContain('It counted before; nothing was added.');
  expect(answered).toContain('Activity/4.fit');
  expect(answered).not.toContain('list.txt');
  const page = await visitor.text('/ways');
  expect(page).toContain('a cable at the workshop: 1 ride');
  const ids = [await world.flow.id('rider', 'r1'), await world.flow.id('rider', 'r2')];
  const rides = await world.store.read(async (tx) =>
    Promise.all(ids.map(async (riderId) => (await tx.rides.listLatestOfRider(riderId, 9)).length)),
  );
  expect(rides).toEqual([3, 3]);
  await world.flow.expectSound();
});

it('what is said to be one rider’s is that rider’s', async () => {
  const { world, visitor } = await opened();
  const riderId = await world.flow.id('rider', 'r2');
  expect((await sent(world, visitor, [['1.fit', ride(3, '3911111111')]], { rider: riderId })).status).toBe(
    303,
  );
  expect((await world.store.read((tx) => tx.rides.listLatestOfRider(riderId, 9))).length).toBe(1);
});

it('what was read is told to whoever read it, for an hour, and a folder without a ride is told as such', async () => {
  const { world, visitor } = await opened();
  await sent(world, visitor, [['Settings/list.txt', new TextEncoder().encode('no ride')]]);
  expect(await visitor.text('/ways?read')).toContain('There was no ride among these files.');
  await sent(world, visitor, [['cut.gpx', new TextEncoder().encode('<gpx><trk')]]);
  expect(await visitor.text('/ways?read')).toContain('cut.gpx');
  expect(await visitor.text('/ways')).not.toContain('cut.gpx');
  const other = await signedIn(world.app);
  expect(await other.text('/ways?read')).not.toContain('cut.gpx');
  expect(await other.text('/ways?read')).toContain('That was a while ago.');
  world.now = '2026-06-10T10:00:01Z';
  expect(await visitor.text('/ways?read')).not.toContain('cut.gpx');
});

it('takes nothing from another site, without the page’s token, without a file, or from a mechanic', async () => {
  const { world, visitor } = await opened();
  const files = [['1.fit', ride(3, '3911111111')]] as const;
  const count = () => world.store.read(async (tx) => (await tx.readings.listIds()).length);
  expect((await sent(world, visitor, files, { token: 'x'.repeat(43) })).status).toBe(403);
  expect((await sent(world, visitor, files, { origin: 'https://elsewhere.example' })).status).toBe(403);
  const none = await sent(world, visitor, []);
  expect([none.status, await none.text()]).toEqual([
    422,
    expect.stringContaining('Choose a folder or files.'),
  ]);
  // A stranger is led to the sign-in page, and a form of another kind is none.
  const stranger = await world.app.request(`${ORIGIN}/ways/files`, {
    method: 'POST',
    headers: { origin: ORIGIN },
    body: new FormData(),
  });
  expect([302, 303, 401, 403]).toContain(stranger.status);
  expect((await visitor.post('/ways/files', { token: await visitor.tokenOn('/ways') })).status).toBe(422);
  expect(await count()).toBe(0);
  const mechanic = await opened('mechanic');
  expect((await mechanic.visitor.get('/ways')).status).toBe(404);
  expect((await sent(mechanic.world, mechanic.visitor, files, { token: 'x' })).status).toBe(404);
});

it('says of each rider by which way, when last and how late, and what waits', async () => {
  const { world, visitor } = await opened();
  for (const day of [1, 2, 3, 4, 5, 6])
    await world.flow.take(ride(day, '3911111111'), { name: `${day}.fit`, rider: 'r1' });
  const page = await visitor.text('/ways');
  expect(page).toContain('Rider 1');
  expect(page).toContain('nothing yet');
  expect(page).toMatch(/not recorded then: 6 rides/);
  expect(page).toMatch(/10 June/);
});
