import { gunzipSync } from 'node:zlib';
import { expect, test } from 'vitest';
import { VERSION } from '../../src/version.js';
import { signedIn, Visitor } from './visitor.js';
import { NAME, PASSWORD, webWorld } from './webWorld.js';

const PAGES = ['/', '/workshop', '/intervals', '/intervals/fork/lower-leg', '/no-such-page'];
const FORMS = [
  '/intervals/fork/lower-leg',
  '/workshop',
  '/sign-out',
  '/sign-out-everywhere',
  '/no-such-page',
];

test.each(PAGES)('a stranger who asks for %s is sent to sign in and sees nothing', async (path) => {
  const { app } = await webWorld();
  const response = await new Visitor(app).get(path);
  expect(response.status).toBe(303);
  expect(response.headers.get('location')).toBe(`/sign-in?next=${encodeURIComponent(path)}`);
  expect(await response.text()).toBe('');
});

test('which version this is stands at the foot of pages of those signed in, and tells strangers and riders nothing', async () => {
  const world = await webWorld();
  const foot = `Stanchion ${VERSION}`;
  expect(await (await signedIn(world.app)).text('/due')).toContain(foot);
  const stranger = new Visitor(world.app);
  for (const path of ['/sign-in', '/r/page/x', '/no-such-page', '/healthz']) {
    const response = await stranger.get(path);
    expect(await response.text()).not.toContain(foot);
    expect(JSON.stringify([...response.headers])).not.toContain(VERSION);
  }
});

test.each(FORMS)("a stranger's form to %s is refused", async (path) => {
  const { app, store } = await webWorld();
  const before = await store.read((tx) => tx.facts.count());
  const response = await new Visitor(app).post(path, { terrainHours: '40' });
  expect(response.status).toBe(403);
  expect(await store.read((tx) => tx.facts.count())).toBe(before);
});

test('a form without the token of its own session changes nothing', async () => {
  const { app, store } = await webWorld();
  const [visitor, other] = [await signedIn(app), await signedIn(app)];
  const before = await store.read((tx) => tx.facts.count());
  const fields = { terrainHours: '40', months: '12', ceiling: 'usual' };
  const path = '/intervals/fork/lower-leg';
  expect((await visitor.post(path, fields)).status).toBe(403);
  expect((await visitor.post(path, { ...fields, token: 'x' })).status).toBe(403);
  const foreign = await other.tokenOn('/');
  const refused = await visitor.post(path, { ...fields, token: foreign });
  expect(refused.status).toBe(403);
  expect(await refused.text()).toContain('Nothing was changed');
  expect(await store.read((tx) => tx.facts.count())).toBe(before);
  const own = await visitor.tokenOn('/');
  expect((await visitor.post(path, { ...fields, token: own })).status).toBe(303);
  expect(await store.read((tx) => tx.facts.count())).toBe(before + 1);
});

test.each([
  ['from another site', { origin: 'https://elsewhere.example', 'sec-fetch-site': 'cross-site' }],
  ['from a site beside this one', { origin: 'http://other.localhost', 'sec-fetch-site': 'same-site' }],
  ['from a page that hides where it is', { origin: 'null' }],
  ['that is no form', { 'content-type': 'application/json' }],
  ['dressed as plain text', { 'content-type': 'text/plain' }],
])('a right form %s is refused', async (_, headers: Record<string, string>) => {
  const { app } = await webWorld();
  const visitor = await signedIn(app);
  const token = await visitor.tokenOn('/');
  expect((await visitor.post('/sign-out', { token }, headers)).status).toBe(403);
  expect((await visitor.post('/sign-in', { name: NAME, password: PASSWORD }, headers)).status).toBe(403);
  expect((await visitor.get('/')).status).toBe(200);
});

test.each(['PUT', 'DELETE', 'PATCH'])('%s is refused', async (method) => {
  const { app } = await webWorld();
  const response = await app.request('http://localhost/', {
    method,
    headers: { origin: 'http://localhost' },
  });
  expect(response.status).toBe(403);
});

test('a form too large is refused before it is read', async () => {
  const { app } = await webWorld();
  const response = await new Visitor(app).post('/sign-in', { name: NAME, password: 'x'.repeat(70_000) });
  expect(response.status).toBe(413);
  expect(await response.text()).toContain('larger than this page takes');
});

test.each(['/', '/sign-in', '/intervals', '/no-such-page'])('%s comes with strict headers', async (path) => {
  const { app } = await webWorld();
  const visitor = path === '/sign-in' ? new Visitor(app) : await signedIn(app);
  const { headers } = await visitor.get(path);
  const policy = headers.get('content-security-policy')!.split('; ');
  for (const part of [
    "default-src 'none'",
    "style-src 'self'",
    "img-src 'self'",
    "form-action 'self'",
    "frame-ancestors 'none'",
    "base-uri 'none'",
  ])
    expect(policy).toContain(part);
  expect(headers.get('referrer-policy')).toBe('no-referrer');
  expect(headers.get('x-content-type-options')).toBe('nosniff');
  expect(headers.get('x-frame-options')).toBe('DENY');
  expect(headers.get('cache-control')).toBe('no-store');
  // No promise of HTTPS is made by a site that has none.
  expect(headers.get('strict-transport-security')).toBeNull();
});

test('pages run nothing and ask no other host for anything', async () => {
  const { app } = await webWorld();
  const visitor = await signedIn(app);
  for (const path of ['/', '/intervals', '/intervals/fork/full']) {
    const text = await visitor.text(path);
    // One script of this host's own, and none in a page.
    expect(text).not.toMatch(
      /<script(?! type="module" src="\/script\/[0-9a-f]{12}\/\w+\.js"><\/script>)|\son\w+=|style=/i,
    );
    expect([...text.matchAll(/(?:href|src|action)="([^"]*)"/g)].map((match) => match[1]![0])).not.toContain(
      'h',
    );
    for (const [, address] of text.matchAll(/(?:href|src|action)="([^"]*)"/g))
      expect(address).toMatch(/^[/#](?!\/)/);
  }
});

test('the style is one file that may be kept, and is small', async () => {
  const { app } = await webWorld();
  const visitor = new Visitor(app);
  const path = /href="(\/style\/\w+\.css)"/.exec(await visitor.text('/sign-in'))![1]!;
  const response = await visitor.get(path);
  expect(response.headers.get('content-type')).toContain('text/css');
  expect(response.headers.get('cache-control')).toContain('immutable');
  const packed = await app.request(path, { headers: { 'accept-encoding': 'gzip' } });
  expect([packed.headers.get('content-encoding'), packed.headers.get('vary')]).toEqual([
    'gzip',
    expect.stringMatching(/accept-encoding/i),
  ]);
  const bytes = Buffer.from(await packed.arrayBuffer());
  expect(gunzipSync(bytes).toString()).toBe(await response.text());
  expect(bytes.length).toBeLessThan(6 * 1024);
});

test('a page that breaks says so in plain words, tells nothing of the inside, and is logged', async () => {
  const world = await webWorld();
  const visitor = await signedIn(world.app);
  const read = world.store.read.bind(world.store);
  let isBroken = true;
  Object.assign(world.store, {
    read: (work: never) => {
      if (isBroken) throw new Error('secret of the inside');
      return read(work);
    },
  });
  const response = await visitor.get('/');
  isBroken = false;
  expect(response.status).toBe(500);
  const text = await response.text();
  expect(text).toContain('Something broke');
  expect(text).not.toContain('secret of the inside');
  expect(response.headers.get('content-security-policy')).toContain("default-src 'none'");
  expect(world.faults).toHaveLength(1);
});

test('an address without a page says so', async () => {
  const { app } = await webWorld();
  const visitor = await signedIn(app);
  for (const path of ['/no-such-page', '/intervals/fork/bushings', '/intervals/saddle/full']) {
    const response = await visitor.get(path);
    expect(response.status).toBe(404);
    expect(await response.text()).toContain('No such page');
  }
});
