/** The own page on a device that keeps it: an address without a token, a cookie that can be taken back. */
import { expect, it } from 'vitest';
import { rideFile } from '../flow/flowWorld.js';
import { linkOf, PUBLIC_URL, RiderWorld } from '../flow/riderWorld.js';
import { plain } from './visitor.js';

async function opened() {
  const world = await RiderWorld.open();
  const home = new URL(linkOf(await world.reminderTo('r1@example.org'), 'page')).pathname;
  const first = await world.app.request(home);
  const [kept = ''] = first.headers.getSetCookie();
  const ask = (path: string, init: RequestInit = {}) =>
    world.app.request(path, { ...init, headers: { cookie: kept.split(';')[0]!, ...init.headers } });
  return { world, home, kept, ask };
}

const form = (fields: Record<string, string>, origin?: string): RequestInit => ({
  method: 'POST',
  body: new URLSearchParams(fields),
  headers: origin === undefined ? {} : { origin },
});

it('opens by the cookie of a device, with all that lies below, and never shows a token', async () => {
  const { ask, kept } = await opened();
  expect(kept).toMatch(/^__Host-own=[^;]+; Max-Age=5184000; Path=\/; HttpOnly; Secure; SameSite=Strict$/);
  for (const below of ['', 'rides', 'files', 'mails', 'said', 'help', 'bikes/new', 'bikes/b1', 'units/F-1']) {
    const page = await ask(`/r/own/${below}`);
    expect(page.status, below).toBe(200);
    expect(await page.text(), below).not.toContain('/r/page/');
  }
  expect(plain(await (await ask('/r/own/')).text())).toContain('Moss Hopper');
});

it('opens nothing without the cookie, for another device, or once links were taken back', async () => {
  const { world, ask } = await opened();
  expect((await world.app.request('/r/own/')).status).toBe(404);
  expect(
    (await world.app.request('/r/own/rides', { headers: { cookie: '__Host-own=made.up.text' } })).status,
  ).toBe(404);
  const riderId = await world.flow.id('rider', 'r1');
  await world.store.write((tx) => tx.contacts.revokeLinks(riderId));
  expect((await ask('/r/own/')).status).toBe(404);
});

it('takes forms of its own pages only: a cookie comes along with those of others', async () => {
  const { world, ask } = await opened();
  const before = await world.facts();
  const hours = { say: 'hours', on: '2026-06-09', minutes: '60', ground: 'typical' };
  for (const origin of [undefined, 'https://elsewhere.example.org', 'null'])
    expect((await ask('/r/own/bikes/b1', form(hours, origin))).status).toBe(404);
  expect(await world.facts()).toBe(before);
  expect((await ask('/r/own/bikes/b1', form(hours, PUBLIC_URL))).status).toBe(303);
  expect(await world.facts()).toBe(before + 1);
});

it('is left by the device on a press, and by forgetting', async () => {
  const { ask } = await opened();
  const left = await ask('/r/own/device', form({}, PUBLIC_URL));
  expect(left.headers.getSetCookie().join()).toMatch(/__Host-own=; Max-Age=0/);
  const { ask: other } = await opened();
  const forgotten = await other('/r/own/forget', form({ sure: 'yes' }, PUBLIC_URL));
  expect(forgotten.headers.getSetCookie().join()).toMatch(/__Host-own=; Max-Age=0/);
  expect((await other('/r/own/')).status).toBe(404);
});

it('tells a phone what to put on its home screen, and nothing of any rider', async () => {
  const { world, ask } = await opened();
  const page = await (await ask('/r/own/')).text();
  expect(page).toContain('<link rel="manifest" href="/app.webmanifest">');
  const answer = await world.app.request('/app.webmanifest');
  expect(answer.headers.get('content-type')).toContain('application/manifest+json');
  // Source: W3C Web Application Manifest, the start URL lies within the scope.
  expect(await answer.json()).toMatchObject({ name: 'Test bench', start_url: '/r/own/', scope: '/r/own/' });
});

it('offers sharing by HTTPS alone; elsewhere the page explains the two taps, and no worker stands by it', async () => {
  const { world, ask } = await opened();
  const manifest = async (at: RiderWorld) => (await at.app.request('/app.webmanifest')).json();
  // Source: W3C Web Share Target API: files are shared by a POST of multipart/form-data.
  expect(await manifest(world)).toMatchObject({
    share_target: { action: '/r/own/share', method: 'POST', enctype: 'multipart/form-data' },
  });
  const files = await (await ask('/r/own/files')).text();
  expect(files).toContain('Put this page on your home screen');
  expect(files).toContain('id="offline" hidden');
  const worker = await ask('/r/own/worker.js');
  expect(worker.headers.get('content-type')).toContain('text/javascript');
  expect(worker.headers.get('content-security-policy')).toContain("connect-src 'self'");
  expect((await ask('/r/own/files')).headers.get('content-security-policy')).toContain("worker-src 'self'");
  expect((await world.app.request('/sign-in')).headers.get('content-security-policy')).toContain(
    "worker-src 'none'",
  );

  const plainWorld = await RiderWorld.open({ publicUrl: 'http://bench.example.org', isOneClick: false });
  expect(await manifest(plainWorld)).not.toHaveProperty('share_target');
  const home = new URL(linkOf(await plainWorld.reminderTo('r1@example.org'), 'page')).pathname;
  const page = await (await plainWorld.app.request(`${home}/files`)).text();
  expect(page).toContain('Two taps do it on any phone');
  expect(page).not.toContain('Put this page on your home screen');
  expect(page).not.toContain('id="offline"');
});

it('takes what is shared where no worker stands by, begun by its user alone', async () => {
  const { world, ask } = await opened();
  const share = (site: string) => {
    const body = new FormData();
    body.append('files', new File([new Uint8Array(rideFile('2026-06-05T08:00:00Z', 60))], 'ride.fit'));
    return ask('/r/own/share', { method: 'POST', body, headers: { 'sec-fetch-site': site } });
  };
  for (const site of ['cross-site', 'same-site']) expect((await share(site)).status).toBe(404);
  const taken = await share('none');
  // Its own address says what became of it, as often as it is asked.
  expect([taken.status, taken.headers.get('location')]).toEqual([303, '/r/own/files/sent']);
  for (let i = 0; i < 2; i++)
    expect(plain(await (await ask('/r/own/files/sent')).text())).toContain('It counts.');
  await world.flow.expectSound();
});

it('tells the worker of a device that the page no longer knows it', async () => {
  const { world, ask } = await opened();
  expect((await ask('/r/own/')).headers.get('own-page')).toBeNull();
  expect((await ask('/r/own/device', form({}, PUBLIC_URL))).headers.get('own-page')).toBe('gone');
  const riderId = await world.flow.id('rider', 'r1');
  await world.store.write((tx) => tx.contacts.revokeLinks(riderId));
  expect((await ask('/r/own/')).headers.get('own-page')).toBe('gone');
  // What is no page is no reason to let go of anything.
  expect((await ask('/r/own/no-such-page')).headers.get('own-page')).toBeNull();
});
