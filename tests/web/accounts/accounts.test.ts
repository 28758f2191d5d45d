import { expect, it } from 'vitest';
import { teamWorld } from '../teamWorld.js';
import { plain, signedIn, Visitor } from '../visitor.js';
import { NAME, PASSWORD, webWorld } from '../webWorld.js';

const PATH = '/settings/accounts';
const NEW = 'four plain words here';

const idOf = async (world: Awaited<ReturnType<typeof teamWorld>>, name: string): Promise<string> =>
  (await world.store.read((tx) => tx.accounts.findByName(name)))!.id;

it('the owner makes a technician and a mechanic of a fleet, who can sign in and land where their work is', async () => {
  const { app, as } = await teamWorld();
  const owner = await as('owner');
  for (const fields of [
    { name: 'Bea Cogsworth', role: 'technician', fleet: '', password: NEW },
    { name: 'Wim Axleby', role: 'mechanic', fleet: 't2', password: NEW },
  ]) {
    const response = await owner.send(PATH, PATH, fields);
    expect(response.headers.get('location')).toBe(`${PATH}?done=added`);
  }
  const text = plain(await owner.text(PATH));
  expect(text).toContain('Wim Axleby mechanic of Team Quillmarsh');
  expect(text).not.toContain(NEW);
  const [bea, wim] = [new Visitor(app), new Visitor(app)];
  await bea.signIn(NEW, 'Bea Cogsworth');
  expect(plain(await bea.text('/'))).toContain('What is due');
  await wim.signIn(NEW, 'Wim Axleby');
  expect((await wim.get('/')).headers.get('location')).toBe('/fleets/t2');
});

it.each([
  [{ name: 'a', role: 'mechanic', fleet: '', password: NEW }, 'A mechanic looks after one fleet'],
  [{ name: 'a', role: 'mechanic', fleet: 'no-such', password: NEW }, 'A mechanic looks after one fleet'],
  [{ name: 'a', role: 'technician', fleet: 't1', password: NEW }, 'Only a mechanic has a fleet'],
  [{ name: 'a', role: 'king', fleet: '', password: NEW }, 'Choose'],
  [{ name: ' ', role: 'technician', fleet: '', password: NEW }, 'The name of an account has'],
  [{ name: 'a', role: 'technician', fleet: '', password: 'short' }, 'A password has from 8'],
  [{ name: 'a', role: 'technician', fleet: '', password: 'iloveyou' }, 'among the most common'],
  [{ name: 'Bea Cogsworth', role: 'technician', fleet: '', password: 'cogsworth-bea' }, 'only a name'],
  [{ name: 'owner', role: 'technician', fleet: '', password: NEW }, 'There is already an account owner'],
])('an account that does not fit is refused and nothing is made: %j', async (fields, why) => {
  const { store, as } = await teamWorld();
  const owner = await as('owner');
  const response = await owner.send(PATH, PATH, fields);
  expect([409, 422]).toContain(response.status);
  expect(plain(await response.text())).toContain(why);
  expect(await store.read((tx) => tx.accounts.list())).toHaveLength(4);
});

it('another password ends that account’s sessions; a removed account is out at once', async () => {
  const world = await teamWorld();
  const [owner, tech, oak] = [await world.as('owner'), await world.as('tech'), await world.as('oak')];
  await owner.send(PATH, `${PATH}/${await idOf(world, 'tech')}/password`, { password: NEW });
  expect((await tech.get('/')).headers.get('location')).toMatch(/^\/sign-in/);
  expect((await tech.signIn(PASSWORD, 'tech')).status).toBe(401);
  expect((await tech.signIn(NEW, 'tech')).status).toBe(303);
  await owner.send(PATH, `${PATH}/${await idOf(world, 'oak')}/remove`, {});
  expect((await oak.get('/fleets/t1')).headers.get('location')).toMatch(/^\/sign-in/);
  expect((await oak.signIn(PASSWORD, 'oak')).status).toBe(401);
  expect((await owner.get('/')).status).toBe(200);
});

it('an owner cannot remove the own account, so that one always stays', async () => {
  const world = await teamWorld();
  const owner = await world.as('owner');
  const response = await owner.send(PATH, `${PATH}/${await idOf(world, 'owner')}/remove`, {});
  expect(response.status).toBe(422);
  expect((await owner.get('/')).status).toBe(200);
});

it('everybody sets the own password, knowing the one of now; other devices are signed out, this one is not', async () => {
  const { app } = await webWorld();
  const [desk, phone] = [await signedIn(app), await signedIn(app)];
  const wrong = await desk.send('/account', '/account', { current: 'not it at all', next: NEW });
  expect(wrong.status).toBe(422);
  expect(plain(await wrong.text())).toContain('Nothing was changed');
  expect((await phone.get('/')).status).toBe(200);
  const right = await desk.send('/account', '/account', { current: PASSWORD, next: NEW });
  expect(right.headers.get('location')).toBe('/account?done=set');
  expect((await desk.get('/')).status).toBe(200);
  expect((await phone.get('/')).status).toBe(303);
  expect((await new Visitor(app).signIn(PASSWORD, NAME)).status).toBe(401);
  expect((await new Visitor(app).signIn(NEW, NAME)).status).toBe(303);
});

it('whoever found a session open cannot guess at the password for long', async () => {
  const { app } = await webWorld();
  const visitor = await signedIn(app);
  let last = '';
  for (let i = 0; i < 9; i += 1)
    last = plain(
      await (await visitor.send('/account', '/account', { current: `guess ${i}`, next: NEW })).text(),
    );
  expect(last).toContain('Too many wrong tries');
});
