import { createHash } from 'node:crypto';
import { expect, test } from 'vitest';
import { DAY_MS, instant, MINUTE_MS } from '../../../src/units.js';
import { createApp } from '../../../src/web/app.js';
import { signedIn, Visitor } from '../visitor.js';
import { NAME, NOW, PASSWORD, webWorld } from '../webWorld.js';

test('the right password opens the page that was asked for, under a cookie that scripts cannot read', async () => {
  const { app } = await webWorld();
  const visitor = new Visitor(app);
  const asked = await visitor.get('/intervals?saved');
  expect(asked.status).toBe(303);
  const signInPage = new URL(asked.headers.get('location')!, 'http://localhost');
  expect(signInPage.pathname).toBe('/sign-in');
  const next = signInPage.searchParams.get('next')!;
  const response = await visitor.post('/sign-in', { name: NAME, password: PASSWORD, next });
  expect(response.status).toBe(303);
  expect(response.headers.get('location')).toBe('/intervals?saved');
  const cookie = response.headers.get('set-cookie')!;
  expect(cookie).toMatch(/^session=[\w-]{43};/);
  expect(cookie).toContain('HttpOnly');
  expect(cookie).toContain('SameSite=Lax');
  expect(cookie).not.toContain('Domain');
  expect((await visitor.get('/')).status).toBe(200);
});

test('an HTTPS address gets a cookie bound to host and HTTPS, and says so for the future', async () => {
  const { app } = await webWorld({ publicUrl: 'https://bench.example.org' });
  const visitor = new Visitor(app, 'https://bench.example.org');
  const response = await visitor.signIn();
  // draft-ietf-httpbis-rfc6265bis: the prefix asks for Secure, Path=/ and no Domain.
  const cookie = response.headers.get('set-cookie')!;
  expect(cookie).toMatch(/^__Host-session=/);
  expect(cookie).toContain('Path=/');
  expect(cookie).toContain('Secure');
  expect(cookie).not.toContain('Domain');
  expect(response.headers.get('strict-transport-security')).toMatch(/^max-age=\d{7,}/);
  expect((await visitor.get('/')).status).toBe(200);
});

test('behind a proxy that speaks HTTPS, forms from the public address are taken', async () => {
  const { app } = await webWorld({ publicUrl: 'https://bench.example.org' });
  const inside = new Visitor(app, 'http://127.0.0.1:8321');
  const fields = { name: NAME, password: PASSWORD };
  const response = await inside.post('/sign-in', fields, { origin: 'https://bench.example.org' });
  expect(response.status).toBe(303);
});

test('the store holds the hash of a session and not its secret', async () => {
  const { app, store } = await webWorld();
  const visitor = await signedIn(app);
  const token = /session=([\w-]+)/.exec(visitor.cookie)![1]!;
  const tokenHash = createHash('sha256').update(token).digest('hex');
  expect(await store.read((tx) => tx.accounts.findSession(tokenHash))).toMatchObject({ tokenHash });
  expect(await store.read((tx) => tx.accounts.findSession(token))).toBeUndefined();
});

test.each([
  ['a wrong password', NAME, 'wrong wheel spanner'],
  ['an unknown name', 'nobody', PASSWORD],
  ['nothing at all', '', ''],
])('%s is refused in the same words', async (_, name, password) => {
  const { app } = await webWorld();
  const visitor = new Visitor(app);
  const response = await visitor.signIn(password, name);
  expect(response.status).toBe(401);
  expect(await response.text()).toContain('Wrong name or password.');
  expect(response.headers.get('set-cookie')).toBeNull();
  expect((await visitor.get('/')).status).toBe(303);
});

test('guessing is stopped for a quarter of an hour, also with the right password', async () => {
  const { app, setNow } = await webWorld();
  const visitor = new Visitor(app);
  for (let i = 0; i < 8; i++) expect((await visitor.signIn(`guess ${i}`)).status).toBe(401);
  const stopped = await visitor.signIn();
  expect(stopped.status).toBe(429);
  expect(Number(stopped.headers.get('retry-after'))).toBe(900);
  expect(await stopped.text()).toContain('Wait a quarter of an hour');
  setNow(instant(NOW + 14 * MINUTE_MS));
  expect((await visitor.signIn()).status).toBe(429);
  setNow(instant(NOW + 16 * MINUTE_MS));
  expect((await visitor.signIn()).status).toBe(303);
});

test('signing out ends the session, and not another one; everywhere ends all', async () => {
  const { app } = await webWorld();
  const [desk, phone] = [await signedIn(app), await signedIn(app)];
  const kept = desk.cookie;
  await desk.send('/', '/sign-out', {});
  const replayed = await app.request('http://localhost/', { headers: { cookie: kept } });
  expect(replayed.status).toBe(303);
  expect((await phone.get('/')).status).toBe(200);
  const third = await signedIn(app);
  await phone.send('/', '/sign-out-everywhere', {});
  expect((await third.get('/')).status).toBe(303);
});

// OWASP ASVS 5.0, 7.3.1.
test('a session ends once nobody used it for the days of the setting, and each use begins them again', async () => {
  const { app, setNow } = await webWorld();
  const [used, left] = [await signedIn(app), await signedIn(app)];
  setNow(instant(NOW + 2 * DAY_MS));
  expect((await used.get('/')).status).toBe(200);
  setNow(instant(NOW + 3 * DAY_MS - 1));
  expect((await left.get('/units')).status).toBe(200);
  setNow(instant(NOW + 5 * DAY_MS));
  expect((await used.get('/')).status).toBe(303);
  expect((await left.get('/')).status).toBe(200);
  setNow(instant(NOW + 8 * DAY_MS));
  expect((await left.get('/')).status).toBe(303);
});

test('the use of a session is written every few minutes, and where it cannot be, the page is shown', async () => {
  const { deps, faults, setNow } = await webWorld();
  let writes = 0;
  let isLocked = false;
  const write: typeof deps.store.write = (work) => {
    writes += 1;
    if (isLocked) throw new Error('locked');
    return deps.store.write(work);
  };
  const app = createApp({ ...deps, store: { ...deps.store, write } });
  const visitor = await signedIn(app);
  writes = 0;
  for (let minute = 0; minute < 11; minute += 1) {
    setNow(instant(NOW + minute * MINUTE_MS));
    expect((await visitor.get('/')).status).toBe(200);
  }
  expect(writes).toBe(2);
  isLocked = true;
  setNow(instant(NOW + 20 * MINUTE_MS));
  expect((await visitor.get('/')).status).toBe(200);
  expect(faults).toHaveLength(1);
});

test('a session ends by itself after two weeks, however much it is used', async () => {
  const { app, setNow } = await webWorld();
  const visitor = await signedIn(app);
  for (let days = 2; days < 14; days += 2) {
    setNow(instant(NOW + days * DAY_MS));
    expect((await visitor.get('/')).status).toBe(200);
  }
  setNow(instant(NOW + 14 * DAY_MS - 1));
  expect((await visitor.get('/')).status).toBe(200);
  setNow(instant(NOW + 14 * DAY_MS));
  expect((await visitor.get('/')).status).toBe(303);
});

test.each([
  '//elsewhere.example/',
  'https://elsewhere.example/',
  '/\\elsewhere.example',
  '/a\r\nset-cookie: x=1',
])('after signing in nobody is sent on to %j', async (next) => {
  const { app } = await webWorld();
  const response = await new Visitor(app).post('/sign-in', { name: NAME, password: PASSWORD, next });
  expect(response.status).toBe(303);
  expect(response.headers.get('location')).toBe('/');
});
