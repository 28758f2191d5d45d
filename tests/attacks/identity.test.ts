/** Being somebody else: sessions that were set, ids that were guessed, and another workshop's rows. */
import SQLite from 'better-sqlite3';
import { expect, it } from 'vitest';
import { LINK_PURPOSES } from '../../src/core/links.js';
import { createApp } from '../../src/web/app.js';
import { crawl } from '../fixtures/pageForms.js';
import { openTestStore } from '../fixtures/storePlace.js';
import { linkOf, NOW, RiderWorld } from '../flow/riderWorld.js';
import { signedIn, Visitor } from '../web/visitor.js';
import { webWorld } from '../web/webWorld.js';

it('a session that somebody else chose is never taken up', async () => {
  const { app } = await webWorld();
  const chosen = 'A'.repeat(43);
  const response = await app.request('http://localhost/sign-in', {
    method: 'POST',
    headers: { origin: 'http://localhost', cookie: `session=${chosen}` },
    body: new URLSearchParams({ name: 'owner', password: 'correct wheel spanner' }),
  });
  expect(response.status).toBe(303);
  const cookie = response.headers.get('set-cookie')!;
  expect(cookie).toMatch(/^session=[\w-]{43};/);
  expect(cookie).not.toContain(chosen);
  const replayed = await app.request('http://localhost/', { headers: { cookie: `session=${chosen}` } });
  expect(replayed.status).toBe(303);
});

it('nobody has an account in a store that was just made, whatever is tried', async () => {
  const { deps } = await webWorld();
  const store = await openTestStore(deps.clock.now());
  const app = createApp({ ...deps, store });
  expect(await store.read((tx) => tx.accounts.list())).toEqual([]);
  for (const name of ['owner', 'admin', '']) {
    for (const password of ['', name]) {
      const response = await app.request('http://localhost/sign-in', {
        method: 'POST',
        headers: { origin: 'http://localhost' },
        body: new URLSearchParams({ name, password }),
      });
      expect([name, response.status, response.headers.get('set-cookie')]).toEqual([
        ...[name, expect.toBeOneOf([401, 403, 422, 429]), null],
      ]);
    }
  }
});

it('each signing in is another session, and a token is never twice the same', async () => {
  const { app } = await webWorld();
  const cookies = new Set<string>();
  const visitor = new Visitor(app);
  for (let i = 0; i < 6; i += 1) {
    await visitor.signIn();
    cookies.add(visitor.cookie);
  }
  expect(cookies.size).toBe(6);
});

it('a session in the address opens nothing', async () => {
  const { app } = await webWorld();
  const { cookie } = await signedIn(app);
  const token = cookie.split('=')[1];
  for (const path of [`/?session=${token}`, `/;session=${token}`, `/units?token=${token}`])
    expect((await app.request(`http://localhost${path}`)).status).toBe(303);
});

it('a forged link to a rider that is there is answered as one to a rider that is not', async () => {
  const world = await RiderWorld.open();
  await world.beat();
  const real = await world.flow.id('rider', 'r1');
  const mail = await world.reminderTo('r1@example.org');
  const token = linkOf(mail, 'stop').split('/').at(-1)!;
  const forged = token.slice(0, -32) + '0'.repeat(32);
  expect(forged).toContain(real);
  const nobody = forged.replace(real, 'x'.repeat(real.length));
  for (const purpose of LINK_PURPOSES) {
    const answers = await Promise.all(
      [forged, nobody].map(async (one) => {
        const response = await world.get(`https://bench.example.org/r/${purpose}/${one}`);
        return [response.status, await response.text()];
      }),
    );
    expect(answers[0]).toEqual(answers[1]);
    expect(answers[0]![0]).toBe(404);
  }
});

it('a link sent to one rider does nothing about another’s unit or ride', async () => {
  const world = await RiderWorld.open();
  const mail = await world.reminderTo('r1@example.org');
  const [own, other] = [await world.flow.id('unit', 'F-1'), await world.flow.id('unit', 'F-2')];
  const before = await world.facts();
  for (const [purpose, fields] of [
    ['done', { on: '2026-06-03', kind: 'lower-leg' }],
    ['gone', { why: 'sold' }],
  ] as const) {
    const url = linkOf(mail, purpose);
    expect(url).toContain(own);
    expect((await world.post(url.replace(own, other), fields)).status).toBe(404);
  }
  expect(await world.facts()).toBe(before);
  expect(await world.flow.due('F-2')).toMatchObject({ bike: 'b2' });
});

it('a link used again changes nothing more', async () => {
  const world = await RiderWorld.open();
  const mail = await world.reminderTo('r1@example.org');
  const fields = { on: '2026-06-03', kind: 'lower-leg' };
  expect((await world.post(linkOf(mail, 'done'), fields)).status).toBe(200);
  const once = await world.facts();
  await world.post(linkOf(mail, 'done'), fields);
  expect(await world.facts()).toBe(once);
  expect(NOW).toBe(world.now);
});

it('another workshop’s rows in the same database are shown by no page and changed by no form', async () => {
  const { app, path: file } = await webWorld();
  const visitor = await signedIn(app);
  expect(moveToAnotherWorkshop(file)).toBeGreaterThan(12);
  const { pages } = await crawl(
    (path) => visitor.text(path),
    [
      '/',
      '/units',
      '/riders',
      '/units/F-0001',
      '/bikes/b1',
      '/mails',
      '/tray',
      '/load',
      '/races',
      '/findings',
      '/intervals',
    ],
  );
  for (const [path, text] of pages)
    for (const theirs of ['Lanternby', 'Green trail bike', 'F-0001', 'Tumbledown'])
      if (!path.includes(theirs)) expect(text, path).not.toContain(theirs);
  expect((await visitor.get('/units/F-0001')).status).not.toBe(200);
  expect((await visitor.get('/bikes/b1')).status).not.toBe(200);
});

/** Returns how many tables were moved: all but those of who may sign in. */
function moveToAnotherWorkshop(path: string): number {
  const database = new SQLite(path);
  try {
    database.pragma('foreign_keys = OFF');
    database
      .prepare("insert into workshop (slug, id, created_at_ms) values ('another', 'zz-other', 0)")
      .run();
    const tables = database
      .prepare(
        "select m.name from sqlite_master m, pragma_table_info(m.name) c where m.type = 'table' and c.name = 'workshop_id'",
      )
      .pluck()
      .all() as string[];
    const triggers = database.prepare("select name from sqlite_master where type = 'trigger'").pluck();
    for (const name of triggers.all() as string[]) database.exec(`drop trigger ${name}`);
    const moved = tables.filter((table) => table !== 'account' && table !== 'session');
    for (const table of moved) database.exec(`update ${table} set workshop_id = 'zz-other'`);
    return moved.length;
  } finally {
    database.close();
  }
}
