import { connect } from 'node:net';
import { Hono } from 'hono';
import { expect, onTestFinished, test } from 'vitest';
import { startWeb } from '../../src/web/serve.js';
import type { WebEnv } from '../../src/web/viewer.js';
import { NAME, PASSWORD, webWorld } from './webWorld.js';

const HERE = { host: '127.0.0.1', port: 0 };

test('the pages are served at the address that is told, and no longer once closed', async () => {
  const { app } = await webWorld();
  const web = await startWeb(app, HERE);
  expect(web.url).toMatch(/^http:\/\/127\.0\.0\.1:\d+$/);
  const response = await fetch(`${web.url}/sign-in`);
  expect(response.status).toBe(200);
  expect(response.headers.get('content-security-policy')).toContain("default-src 'none'");
  await web.close();
  await expect(fetch(`${web.url}/sign-in`)).rejects.toThrow();
});

test('a request under way is answered before the port is given back', async () => {
  const app = new Hono<WebEnv>();
  let arrived = (): void => {};
  const hasArrived = new Promise<void>((resolve) => {
    arrived = resolve;
  });
  let finish = (): void => {};
  const mayFinish = new Promise<void>((resolve) => {
    finish = resolve;
  });
  app.get('/slow', async (c) => {
    arrived();
    await mayFinish;
    return c.text('done');
  });
  const web = await startWeb(app, HERE);
  const answer = fetch(`${web.url}/slow`).then((response) => response.text());
  await hasArrived;
  const closed = web.close();
  finish();
  expect(await answer).toBe('done');
  await closed;
});

test('a port that is taken is told in words', async () => {
  const { app } = await webWorld();
  const web = await startWeb(app, HERE);
  onTestFinished(() => web.close());
  const port = Number(new URL(web.url).port);
  await expect(startWeb(app, { ...HERE, port })).rejects.toMatchObject({
    code: 'refused',
    message: `Nothing can be served at 127.0.0.1, port ${port}.`,
  });
});

test('over a socket tries are counted by where they come from; behind a proxy that is trusted, by what it saw', async () => {
  const tries = async (options: Parameters<typeof webWorld>[0]): Promise<number[]> => {
    const { app } = await webWorld(options);
    const web = await startWeb(app, HERE);
    onTestFinished(() => web.close());
    const statuses: number[] = [];
    for (let i = 0; i < 10; i++) {
      const response = await fetch(`${web.url}/sign-in`, {
        method: 'POST',
        headers: { origin: web.url, 'x-forwarded-for': `203.0.113.1, 198.51.100.${i}` },
        body: new URLSearchParams({ name: NAME, password: `guess ${i}` }),
        redirect: 'manual',
      });
      statuses.push(response.status);
    }
    return statuses;
  };
  // RFC 5737: addresses for documentation.
  const publicUrl = 'https://bench.example.org';
  expect((await tries({})).slice(8)).toEqual([429, 429]);
  expect((await tries({ publicUrl })).slice(8)).toEqual([429, 429]);
  expect((await tries({ trustedProxy: ['192.0.2.9'] })).slice(8)).toEqual([429, 429]);
  expect((await tries({ publicUrl, trustedProxy: ['127.0.0.1'] })).slice(8)).toEqual([401, 401]);
  expect((await tries({ trustedProxy: ['127.0.0.0/8', '198.51.100.0/24'] })).slice(8)).toEqual([429, 429]);
});

test('a proxy that is not trusted is told of once, where there is a public address', async () => {
  const told = async (
    options: Parameters<typeof webWorld>[0],
    headers: Record<string, string>,
  ): Promise<number> => {
    const { app, faults } = await webWorld(options);
    const web = await startWeb(app, HERE);
    onTestFinished(() => web.close());
    for (let i = 0; i < 3; i++) await fetch(`${web.url}/sign-in`, { headers });
    return faults.length;
  };
  const publicUrl = 'https://bench.example.org';
  const forwarded = { 'x-forwarded-for': '198.51.100.1' };
  expect(await told({ publicUrl }, forwarded)).toBe(1);
  expect(await told({ publicUrl }, {})).toBe(0);
  expect(await told({ publicUrl, trustedProxy: ['127.0.0.1'] }, forwarded)).toBe(0);
  expect(await told({}, forwarded)).toBe(0);
});

test('a proxy that is trusted tells whether the browser came by HTTPS; anybody else does not', async () => {
  const cookieOf = async (trustedProxy: string[]): Promise<string | null> => {
    const { app } = await webWorld({ trustedProxy });
    const web = await startWeb(app, HERE);
    onTestFinished(() => web.close());
    const origin = trustedProxy.length > 0 ? web.url.replace('http:', 'https:') : web.url;
    const response = await fetch(`${web.url}/sign-in`, {
      method: 'POST',
      headers: { origin, 'x-forwarded-proto': 'https' },
      body: new URLSearchParams({ name: NAME, password: PASSWORD }),
      redirect: 'manual',
    });
    expect(response.status).toBe(303);
    return response.headers.get('set-cookie');
  };
  expect(await cookieOf(['127.0.0.1'])).toMatch(/^__Host-session=.*; Secure/);
  expect(await cookieOf([])).toMatch(/^session=/);
});

/** Sends text over a connection of its own; returns what comes back until it is closed. */
const overSocket = (url: string, text: string): Promise<string> =>
  new Promise((resolve) => {
    const { hostname, port } = new URL(url);
    const socket = connect(Number(port), hostname, () => socket.write(text));
    let answer = '';
    socket.on('data', (bytes) => {
      answer += bytes.toString('latin1');
    });
    socket.on('error', () => undefined);
    socket.on('close', () => resolve(answer));
  });

test('of the requests that are sent at once on one connection a hundred are answered, and then it is closed', async () => {
  const { app } = await webWorld();
  const web = await startWeb(app, HERE);
  onTestFinished(() => web.close());
  const flood = overSocket(web.url, 'GET /sign-in HTTP/1.1\r\nHost: x\r\n\r\n'.repeat(5000));
  const asked = performance.now();
  expect((await fetch(`${web.url}/sign-in`)).status).toBe(200);
  expect(performance.now() - asked).toBeLessThan(3000);
  const answers = [...(await flood).matchAll(/HTTP\/1\.1 (\d+) /g)].map(([, status]) => status);
  expect(answers.filter((status) => status === '200')).toHaveLength(100);
});

test('a host that is none is refused, and fills no log', async () => {
  const { app, faults } = await webWorld();
  const web = await startWeb(app, HERE);
  onTestFinished(() => web.close());
  const answerTo = (host: string): Promise<string> =>
    overSocket(web.url, `GET /sign-in HTTP/1.1\r\nHost: ${host}\r\nConnection: close\r\n\r\n`);
  for (const host of ['[::1', 'a b', 'x:99999', '%00'])
    expect(await answerTo(host)).toMatch(/^HTTP\/1\.1 400 /);
  // To Node 20 this is no host, to Node 24 it is one.
  const isHost = URL.canParse('http://xn--/');
  expect(await answerTo('xn--')).toMatch(isHost ? /^HTTP\/1\.1 200 / : /^HTTP\/1\.1 400 /);
  expect(faults).toEqual([]);
});
