/** What strangers do to get in others' way: the real program, its memory and its answers meanwhile. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { expect, it } from 'vitest';
import { rideText } from '../faults/serving.js';
import { zipFile } from '../fixtures/zipFile.js';
import { slowFit } from '../soak/slowFit.js';
import { fileForm, fromOf, type OpenDoor, openDoor, PASSWORD, peakWhile } from './openDoor.js';

const MB = 1024 * 1024;
const STRANGERS = 20;
const SENT_BYTES = 60 * MB;

/** Sends so many bytes as fast as they are taken; returns the status, or null where the connection was cut. */
function pour(door: OpenDoor, path: string, headers: Record<string, string>): Promise<number | null> {
  const { type, before } = fileForm('a.fit');
  return new Promise((resolve) => {
    const sent = door.begin(path, { 'content-type': type, ...headers });
    let status: number | null = null;
    let left = SENT_BYTES;
    const chunk = Buffer.alloc(MB);
    const pump = (): void => {
      while (left > 0 && !sent.destroyed) {
        left -= chunk.length;
        if (!sent.write(chunk)) return void sent.once('drain', pump);
      }
      if (left <= 0) sent.end();
    };
    sent.on('response', (response) => {
      status = response.statusCode ?? null;
      response.resume();
    });
    sent.on('error', () => undefined);
    sent.on('close', () => resolve(status));
    sent.write(before);
    pump();
  });
}

it('strangers without a link who send 60 MB each fill no memory', async () => {
  const door = await openDoor();
  await wait(1000);
  const before = door.residentBytes();
  const statuses: (number | null)[] = [];
  const peak = await peakWhile(door.residentBytes, async () => {
    const paths = ['/r/page/made-up/files', '/r/stop/made-up', '/due', '/no-such-page'];
    const all = Array.from({ length: STRANGERS }, (_, i) =>
      pour(door, paths[i % paths.length]!, i % 2 === 0 ? {} : { 'content-length': String(SENT_BYTES + 200) }),
    );
    statuses.push(...(await Promise.all(all)));
  });
  console.info(
    `${STRANGERS} strangers, 60 MB each: resident ${toMb(before)} MB before, ${toMb(peak)} MB at most`,
  );
  for (const status of statuses) expect([null, 403, 404, 413]).toContain(status);
  expect(statuses.filter((status) => status !== null).length).toBeGreaterThan(STRANGERS / 2);
  expect(peak - before).toBeLessThan(150 * MB);
  expect((await door.ask('/healthz')).status).toBe(200);
}, 120_000);

it('a rider’s 60 MB go to disk as they come, and nothing of them stays there', async () => {
  const door = await openDoor();
  const home = await door.linkOf('r1', 'page');
  await wait(1000);
  const before = door.residentBytes();
  const { type, before: head, after } = fileForm('large.fit');
  const body = Buffer.concat([head, Buffer.alloc(SENT_BYTES), after]);
  const headers = { 'content-type': type, accept: 'application/json' };
  const peak = await peakWhile(door.residentBytes, async () => {
    const answer = await door.ask(`${home}/files`, { method: 'POST', headers, body });
    expect([answer.status, JSON.parse(answer.text).answers.length]).toEqual([200, 1]);
  });
  console.info(`a rider’s 60 MB: resident ${toMb(before)} MB before, ${toMb(peak)} MB at most`);
  // Once as it is kept, once as it is decoded.
  expect(peak - before).toBeLessThan(250 * MB);
  expect(readdirSync(join(door.data, 'parts'))).toEqual([]);
}, 120_000);

it('wrong passwords without end from 130 addresses do not keep the owner out', async () => {
  const door = await openDoor();
  const answers = new Map<number, number>();
  let isOver = false;
  const attack = Array.from({ length: 130 }, async (_, stranger) => {
    for (let i = 0; i < 400 && !isOver; i++) {
      const answer = await door.signIn(`guess ${i}`, { from: fromOf(stranger) }).catch(() => null);
      if (answer !== null) answers.set(answer.status, (answers.get(answer.status) ?? 0) + 1);
    }
  });
  // By now the name is guessed at from everywhere, and all turns are taken.
  while ([...answers.values()].reduce((sum, one) => sum + one, 0) < 400) await wait(50);
  const asked = performance.now();
  const owner = await door.signIn(PASSWORD, { from: '127.9.9.9' });
  const seconds = (performance.now() - asked) / 1000;
  isOver = true;
  console.info(
    `the owner was let in after ${seconds.toFixed(1)} s; strangers: ${JSON.stringify([...answers])}`,
  );
  expect(owner.status).toBe(303);
  expect(seconds).toBeLessThan(30);
  expect(answers.has(303)).toBe(false);
  door.serving.child.kill('SIGKILL');
  await Promise.all(attack);
}, 180_000);

it('a place that has passed its limit stays shut with the right password, but not to a browser that signed in before', async () => {
  const door = await openDoor();
  const [here, elsewhere] = ['127.2.0.1', '127.2.0.2'];
  const first = await door.signIn(PASSWORD, { from: here });
  expect(first.status).toBe(303);
  const cookie = first.headers['set-cookie']!.map((line) => line.split(';')[0])
    .filter((one) => !one!.startsWith('session='))
    .join('; ');
  // Longer than any password is: counted, and not worth a check.
  for (let i = 0; i < 41; i++) await door.signIn('x'.repeat(201), { from: here }, `name ${i}`);
  expect((await door.signIn(PASSWORD, { from: here })).status).toBe(429);
  expect((await door.signIn(PASSWORD, { from: elsewhere })).status).toBe(303);
  expect((await door.signIn(PASSWORD, { from: here, headers: { cookie } })).status).toBe(303);
  const forged = cookie.replace(/.$/, (last) => (last === 'A' ? 'B' : 'A'));
  expect((await door.signIn(PASSWORD, { from: here, headers: { cookie: forged } })).status).toBe(429);
  for (let i = 0; i < 8; i++) await door.signIn('x'.repeat(201), { from: here, headers: { cookie } });
  expect((await door.signIn(PASSWORD, { from: here, headers: { cookie } })).status).toBe(429);
}, 120_000);

it('thousands of made-up links leave good ones and the one click alone, from the same place too', async () => {
  const door = await openDoor();
  const [page, stop] = [await door.linkOf('r1', 'page'), await door.linkOf('r2', 'stop')];
  const statuses = new Map<number, number>();
  const strangers = Array.from({ length: 20 }, async (_, stranger) => {
    for (let i = 0; i < 100; i++) {
      const method = i % 2 === 0 ? 'GET' : 'POST';
      const { status } = await door.ask(`/r/${i % 3 ? 'stop' : 'page'}/made-up-${stranger}-${i}`, { method });
      statuses.set(status, (statuses.get(status) ?? 0) + 1);
    }
  });
  await Promise.all(strangers);
  console.info(`2000 made-up links: ${JSON.stringify([...statuses])}`);
  expect([...statuses.keys()].sort()).toEqual([404, 429]);
  expect((await door.ask(page)).status).toBe(200);
  const oneClick = await door.ask(stop, {
    method: 'POST',
    headers: { 'content-type': 'application/x-www-form-urlencoded' },
    body: 'List-Unsubscribe=One-Click',
  });
  expect(oneClick.status).toBe(200);
  expect((await door.ask(stop)).text).toContain('again');
}, 120_000);

it('a sending that stalls holds up no other rider, and is given up', async () => {
  const door = await openDoor();
  const [slow, quick] = [await door.linkOf('r1', 'page'), await door.linkOf('r2', 'page')];
  const { type, before, after } = fileForm('a.gpx');
  const stalled = [0, 1, 2, 3].map(() => {
    const sent = door.begin(`${slow}/files`, { 'content-type': type, accept: 'application/json' });
    const ended = new Promise<number | null>((resolve) => {
      sent.on('response', (response) => {
        response.resume();
        resolve(response.statusCode!);
      });
      sent.on('error', () => resolve(null));
    });
    sent.write(before);
    return { sent, ended };
  });
  await wait(500);
  const asked = performance.now();
  const answer = await door.ask(`${quick}/files`, {
    method: 'POST',
    headers: { 'content-type': type, accept: 'application/json' },
    body: Buffer.concat([before, Buffer.from(rideText(3)), after]),
  });
  const seconds = (performance.now() - asked) / 1000;
  console.info(`while another’s sending stood still, a ride took ${seconds.toFixed(1)} s`);
  expect([answer.status, answer.text]).toEqual([200, expect.stringContaining('It counts.')]);
  expect(seconds).toBeLessThan(15);
  // The first two of that rider are read and given up; the others wait for their turn and fare no better.
  expect(await Promise.all(stalled.slice(0, 2).map(({ ended }) => ended))).toEqual([408, 408]);
  for (const { sent } of stalled) sent.destroy();
}, 120_000);

const toMb = (bytes: number): number => Math.round(bytes / MB);

it('a sending whose files decode slowly holds up no other rider', async () => {
  const door = await openDoor();
  const [slow, quick] = [await door.linkOf('r1', 'page'), await door.linkOf('r2', 'page')];
  const from = Date.now() - 20 * 86_400_000;
  const files = Array.from({ length: 12 }, (_, i) => ({
    name: `slow ${i}.fit`,
    bytes: slowFit(from - i * 1000, 300_000),
  }));
  const send = (home: string, name: string, bytes: Uint8Array) => {
    const { type, before, after } = fileForm(name);
    const headers = { 'content-type': type, accept: 'application/json' };
    return door.ask(`${home}/files`, {
      method: 'POST',
      headers,
      body: Buffer.concat([before, bytes, after]),
    });
  };
  let isSlowDone = false;
  const long = send(slow, 'slow.zip', zipFile(files)).then((answer) => {
    isSlowDone = true;
    return answer;
  });
  await wait(2000);
  const asked = performance.now();
  const answer = await send(quick, 'a.gpx', Buffer.from(rideText(3)));
  const seconds = (performance.now() - asked) / 1000;
  console.info(`while another’s slow files were read, a ride took ${seconds.toFixed(1)} s`);
  expect([answer.status, answer.text]).toEqual([200, expect.stringContaining('It counts.')]);
  expect(isSlowDone).toBe(false);
  expect(seconds).toBeLessThan(10);
  expect((await long).status).toBe(200);
}, 180_000);

it('64 bits of IPv6 are one place, as a trusted proxy tells it over a real connection; the next ones are another', async () => {
  const door = await openDoor({ STANCHION_TRUSTED_PROXY: '127.0.0.1' });
  const guessFrom = async (address: string, from = '127.0.0.1'): Promise<number> =>
    (await door.ask('/r/page/made-up', { from, headers: { 'x-forwarded-for': address } })).status;
  const statuses: number[] = [];
  for (let i = 0; i < 62; i++) statuses.push(await guessFrom(`2001:db8:0:7:${i.toString(16)}::${i + 1}`));
  expect(statuses).toEqual([...new Array(60).fill(404), 429, 429]);
  expect(await guessFrom('2001:db8:0:8::1')).toBe(404);
  expect(await guessFrom('::ffff:192.0.2.7')).toBe(404);
  // Who is no proxy may say what he likes: he counts by his own address.
  for (let i = 0; i < 60; i++) expect(await guessFrom(`2001:db8:1:${i}::1`, '127.0.0.2')).toBe(404);
  expect(await guessFrom('2001:db8:2::1', '127.0.0.2')).toBe(429);
  const good = { headers: { 'x-forwarded-for': '2001:db8:0:7::1' } };
  expect((await door.ask(await door.linkOf('r1', 'page'), good)).status).toBe(200);
}, 120_000);
