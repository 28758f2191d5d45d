/** Every form of the workshop's pages, and every way in which another site might send it. */
import { expect, it } from 'vitest';
import { signedIn, Visitor } from '../web/visitor.js';
import { webWorld } from '../web/webWorld.js';

const FORM = { 'content-type': 'application/x-www-form-urlencoded' };
const OWN = 'http://localhost';

/** Where the workshop's forms go, with something in the place of what varies. */
async function world() {
  const made = await webWorld();
  const visitor = await signedIn(made.app);
  const paths = made.app.routes
    .filter(({ method, path }) => method === 'POST' && !path.startsWith('/r/'))
    .map(({ path }) => path.replace(':tag', 'F-0001').replace(':handle', 'b1').replace(/:\w+/g, 'fork'));
  const state = () =>
    made.store.read(async (tx) => [await tx.facts.count(), (await tx.accounts.findByName('owner'))?.id]);
  const send = (path: string, headers: Record<string, string>, body: string) =>
    made.app.request(OWN + path, { method: 'POST', headers: { cookie: visitor.cookie, ...headers }, body });
  return { ...made, visitor, paths: [...new Set(paths)], state, send };
}

it('a form that another site sends is refused by every one, with a session and a right token', async () => {
  const { visitor, paths, state, send } = await world();
  const token = await visitor.tokenOn('/');
  const before = await state();
  expect(paths.length).toBeGreaterThanOrEqual(15);
  for (const path of paths) {
    for (const headers of [
      { ...FORM, origin: 'https://elsewhere.example', 'sec-fetch-site': 'cross-site' },
      { ...FORM, origin: 'null', 'sec-fetch-site': 'cross-site' },
      { ...FORM, origin: 'http://localhost.elsewhere.example' },
      { ...FORM, 'sec-fetch-site': 'cross-site' },
    ]) {
      const { status } = await send(path, headers, `token=${token}&why=x&name=x`);
      expect([path, status]).toEqual([path, 403]);
    }
  }
  expect(await state()).toEqual(before);
  expect((await visitor.get('/')).status).toBe(200);
});

it('JSON and everything else that is no form is refused by every one, from wherever it comes', async () => {
  const { visitor, paths, state, send } = await world();
  const token = await visitor.tokenOn('/');
  const before = await state();
  for (const path of paths) {
    for (const type of [
      'application/json',
      'text/plain',
      'multipart/form-data; boundary=x',
      'application/xml',
      '',
    ]) {
      for (const origin of [OWN, 'https://elsewhere.example']) {
        const { status } = await send(
          path,
          { 'content-type': type, origin },
          JSON.stringify({ token, why: 'x' }),
        );
        // Two forms of this site carry files: of its own they are read, by pages that take none here; these ask for the token then.
        const carries = path.endsWith('/photos') || path === '/ways/files';
        const isRead = origin === OWN && type.startsWith('multipart') && carries;
        expect([path, type, status]).toEqual([path, type, isRead ? 404 : 403]);
      }
    }
  }
  expect(await state()).toEqual(before);
});

it('without a session, and with one but without its token, every one changes nothing', async () => {
  const { app, paths, state, send } = await world();
  const before = await state();
  const stranger = new Visitor(app);
  for (const path of paths.filter((one) => one !== '/sign-in')) {
    expect([path, (await stranger.post(path, { why: 'x' })).status]).toEqual([path, 403]);
    expect([path, (await send(path, { ...FORM, origin: OWN }, 'why=x')).status]).toEqual([path, 403]);
    expect([path, (await send(path, { ...FORM, origin: OWN }, 'token=forged&why=x')).status]).toEqual([
      path,
      403,
    ]);
  }
  expect(await state()).toEqual(before);
});

it('no answer lets another site read it', async () => {
  const { app, visitor } = await world();
  for (const path of ['/', '/units', '/sign-in', '/healthz', '/no-such-page']) {
    const response = await app.request(OWN + path, {
      headers: { cookie: visitor.cookie, origin: 'https://elsewhere.example' },
    });
    expect(response.headers.get('access-control-allow-origin')).toBeNull();
  }
  const asked = await app.request(`${OWN}/units`, {
    method: 'OPTIONS',
    headers: { origin: 'https://elsewhere.example', 'access-control-request-method': 'POST' },
  });
  expect(asked.status).toBe(403);
});

it('a host that somebody made up stands in no page, address or cookie', async () => {
  const { app } = await world();
  for (const headers of [
    { host: 'elsewhere.example' },
    { 'x-forwarded-host': 'elsewhere.example' },
    { forwarded: 'host=elsewhere.example' },
  ]) {
    for (const path of ['/', '/sign-in', '/units', '/no-such-page']) {
      const response = await app.request(OWN + path, { headers });
      const told =
        [...response.headers].map(([name, value]) => `${name}: ${value}`).join('\n') +
        (await response.text());
      expect(told).not.toContain('elsewhere.example');
    }
  }
});

it('a line break in an address or a field makes no header of its own', async () => {
  const { visitor } = await world();
  const broken = encodeURIComponent('x\r\nset-cookie: stolen=1');
  for (const path of [`/sign-in?next=/${broken}`, `/units/${broken}`, `/?done=${broken}`, `/${broken}`]) {
    const { headers } = await visitor.get(path);
    expect(headers.get('set-cookie')).toBeNull();
  }
  const response = await visitor.send('/units/F-0001', '/units/F-0001/mark', {
    why: 'x\r\nset-cookie: stolen=1',
  });
  expect(response.headers.get('set-cookie')).toBeNull();
});
