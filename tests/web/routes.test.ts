/** Every route with every role, about one's own things, somebody else's, and what is not there: made from the table of routes. */
import { expect, it } from 'vitest';
import { instant, MINUTE_MS } from '../../src/units.js';
import { ROUTES } from '../../src/web/routes.js';
import { openSession } from '../../src/web/signIn/session.js';
import { STYLE_PATH } from '../../src/web/styles/style.js';
import { addressOf, type Entry, entries, guarded, type Ids, idsIn } from './everyRoute.js';
import { teamWorld } from './teamWorld.js';
import { Visitor } from './visitor.js';
import { NOW } from './webWorld.js';

const NOTHING_THERE: Ids = {
  unit: 'F-9999',
  rider: 'r-none',
  bike: 'b-none',
  ride: 'nothing',
  race: 'r-none',
  fleet: 't-none',
  line: 'nothing',
  photo: 'nothing',
  lead: 'nothing',
  mail: 'nothing',
  question: 'nothing',
  account: 'nothing',
  list: 'saddles.csv',
  'unit kind': 'saddle',
  'service kind': 'polish',
};

const ask = async (visitor: Visitor, { method }: Entry, path: string): Promise<Response> =>
  method === 'GET' ? visitor.get(path) : visitor.send('/account', path, {});

/** What an answer tells, whoever asks and whatever stands in the address. */
const told = async (response: Response): Promise<string> =>
  `${response.status} ${response.headers.get('location')} ${await response.text()}`.replaceAll(
    /name="token" value="[^"]*"/g,
    '',
  );

it('the table and the pages have the same routes; those behind links in mails have no others beside them', async () => {
  const { app } = await teamWorld();
  const routed = app.routes
    .filter(({ method }) => method !== 'ALL')
    .map(({ method, path }) => `${method} ${path}`);
  const own = [...new Set(routed)].filter((key) => !/^\w+ \/r\//.test(key)).sort();
  expect(own).toEqual(Object.keys(ROUTES).sort());
  expect(guarded.length).toBeGreaterThan(45);
});

it('an id in an address says what it names', () => {
  for (const { key, path, names } of guarded)
    expect([...path.matchAll(/:(\w+)/g)].map(([, part]) => part).sort(), key).toEqual(
      Object.keys(names).sort(),
    );
});

it('a stranger is asked to sign in by every page and refused by every form, whatever there is', async () => {
  const world = await teamWorld();
  const ids = await idsIn(world);
  const before = await world.store.read((tx) => tx.facts.count());
  for (const entry of guarded) {
    const stranger = new Visitor(world.app);
    for (const some of [ids.shop, ids.oak, ids.marsh, NOTHING_THERE]) {
      const path = addressOf(entry, some);
      const response = entry.method === 'GET' ? await stranger.get(path) : await stranger.post(path, {});
      if (entry.method === 'GET') {
        expect([entry.key, response.status]).toEqual([entry.key, 303]);
        expect(response.headers.get('location')).toBe(`/sign-in?${new URLSearchParams({ next: path })}`);
      } else {
        expect([entry.key, response.status]).toEqual([entry.key, 403]);
        expect(await response.text()).toBe(await (await stranger.post('/no-such-form', {})).text());
      }
    }
  }
  expect(await world.store.read((tx) => tx.facts.count())).toBe(before);
});

it.each(['owner', 'tech', 'oak', 'marsh'] as const)(
  'what %s may not use is answered as what is not there, and changes nothing',
  async (name) => {
    const world = await teamWorld();
    const ids = await idsIn(world);
    const visitor = await world.as(name);
    const role = name === 'owner' ? 'owner' : name === 'tech' ? 'technician' : 'mechanic';
    const others = name === 'oak' ? [ids.shop, ids.marsh] : [ids.shop, ids.oak];
    const foreign = role === 'mechanic' ? others : [];
    const count = () => world.store.read((tx) => tx.facts.count());
    const before = await count();
    let asked = 0;
    for (const entry of guarded) {
      const isAllowed = entry.who.includes(role);
      const hasIds = Object.keys(entry.names).length > 0;
      const tried = isAllowed
        ? hasIds
          ? [...foreign.filter((some) => isForeign(entry, some, name)), NOTHING_THERE]
          : []
        : [ids.shop, ids.oak, ids.marsh, NOTHING_THERE];
      const nothing = entry.method === 'GET' ? '/no-such-page' : '/no-such-form';
      for (const some of tried) {
        const response = await ask(visitor, entry, addressOf(entry, some));
        const answer = await told(response);
        expect([entry.key, response.status]).toEqual([entry.key, 404]);
        expect(answer, `${entry.key} ${addressOf(entry, some)}`).toBe(
          await told(await ask(visitor, entry, nothing)),
        );
        asked += 1;
      }
    }
    expect(asked).toBeGreaterThan(role === 'mechanic' ? 100 : 10);
    expect(await count()).toBe(before);
  },
  60_000,
);

/** Races and fleets of the workshop are the first team's here; a list is nobody's, and holds only the own fleet's rows. */
const isForeign = ({ names }: Entry, some: Ids, name: string): boolean =>
  Object.values(names).every((what) =>
    what === 'race' || what === 'fleet' ? name !== 'oak' || some.fleet === 't2' : what !== 'list',
  );

it.each(['owner', 'tech', 'oak', 'marsh'] as const)(
  'what %s may use is there',
  async (name) => {
    const world = await teamWorld();
    const ids = await idsIn(world);
    const role = name === 'owner' ? 'owner' : name === 'tech' ? 'technician' : 'mechanic';
    const own = role === 'mechanic' ? ids[name as 'oak' | 'marsh'] : ids.shop;
    const account = await world.store.read((tx) => tx.accounts.findByName(name));
    const allowed = guarded.filter((entry) => entry.who.includes(role));
    expect(allowed.length).toBeGreaterThan(15);
    // Those that end the session come last, each with a session of its own.
    for (const entry of allowed) {
      const token = await world.store.write((tx) => openSession(tx, account!.id, NOW));
      const visitor = new Visitor(world.app);
      visitor.take(`session=${token}`);
      const response = await ask(visitor, entry, addressOf(entry, own));
      expect([200, 303, 409, 422], `${entry.key}: ${response.status}`).toContain(response.status);
      if (response.status === 303)
        expect(response.headers.get('location'), entry.key).not.toContain('/sign-in?next');
    }
    expect(world.faults).toEqual([]);
  },
  60_000,
);

/** The same script for every device, whoever asks: nothing of a rider is in it. */
const WORKER = '/r/own/worker.js';

it('the script that a device keeps is one for all', async () => {
  const world = await teamWorld();
  const of = async (visitor: Visitor) => {
    const response = await visitor.get(WORKER);
    expect(response.status).toBe(200);
    expect(response.headers.get('set-cookie')).toBeNull();
    return response.text();
  };
  const known = new Visitor(world.app);
  known.take('session=rider.unit.1.abcdef');
  expect(await of(known)).toBe(await of(new Visitor(world.app)));
});

it('a rider’s link opens no page of the workshop, and another rider’s token none of a rider’s', async () => {
  const world = await teamWorld();
  const behindLinks = world.app.routes.filter(
    ({ method, path }) => path.startsWith('/r/') && method !== 'ALL' && path !== WORKER,
  );
  expect(behindLinks.length).toBeGreaterThan(10);
  const visitor = new Visitor(world.app);
  const answers = new Set<string>();
  for (const [i, { method, path }] of behindLinks.entries()) {
    // Who tries many links that do not work is held up for a while.
    world.setNow(instant(NOW + i * 16 * MINUTE_MS));
    for (const token of ['nothing', 'rider.unit.1.abcdef', 'x'.repeat(200)]) {
      const address = path.replaceAll(/:\w+/g, token);
      const response = method === 'GET' ? await visitor.get(address) : await visitor.post(address, {});
      expect([path, response.status]).toEqual([path, 404]);
      answers.add(await response.text());
    }
  }
  expect(answers.size).toBe(1);
  visitor.take('session=rider.unit.1.abcdef');
  expect((await visitor.get('/units/F-0001')).status).toBe(303);
});

it('what needs no sign-in is what the table says, and nothing of the workshop', async () => {
  const { app } = await teamWorld();
  const stranger = new Visitor(app);
  const open = entries.filter(({ who }) => who === 'anybody').map(({ path }) => path);
  expect([...new Set(open)].sort()).toEqual(
    [
      '/app.webmanifest',
      '/healthz',
      '/icon.svg',
      '/metrics',
      '/readyz',
      '/script/:print/:file',
      '/sign-in',
      '/style/:file',
    ].sort(),
  );
  for (const path of ['/healthz', '/icon.svg', '/readyz', '/sign-in', STYLE_PATH])
    expect((await stranger.get(path)).status, path).toBe(200);
  for (const path of ['/metrics', '/bookings/nothing.ics', '/style/other.css', '/script/other/sendFiles.js'])
    expect((await stranger.get(path)).status, path).toBe(404);
});
