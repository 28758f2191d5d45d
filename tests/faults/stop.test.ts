/** Asked to end, it ends what it has begun, and leaves nothing half done. */
import { existsSync } from 'node:fs';
import { type AddressInfo, connect, createServer } from 'node:net';
import { join } from 'node:path';
import { expect, it, onTestFinished } from 'vitest';
import { manyForks } from '../fixtures/manyForks.js';
import { eventually, scratchFolder } from '../fixtures/program.js';
import {
  countedRides,
  expectSound,
  layDown,
  putLedger,
  rideText,
  serveIn,
  untilCounted,
  whatHappened,
} from './serving.js';

it('in the middle of a delivery: it ends well, and the next one takes the rest', async () => {
  const data = scratchFolder();
  await putLedger(data);
  const rides = 25;
  for (let i = 1; i <= rides; i += 1) layDown(data, `ride ${i}.gpx`, rideText(i));
  const first = await serveIn(data);
  expect((await first.get('/sign-in')).status).toBe(200);
  expect(await first.stop()).toBe(0);
  expect(first.log()).not.toContain('"level":50');
  // A store that was closed leaves no log of its own behind.
  expect(existsSync(join(data, 'stanchion.db-wal'))).toBe(false);
  expect(await countedRides(data)).toBeLessThanOrEqual(rides);
  expectSound(data);
  const second = await serveIn(data);
  await untilCounted(data, rides);
  expect(await second.stop()).toBe(0);
  expectSound(data);
}, 180_000);

it('with somebody connected who never asks for anything: it ends all the same', async () => {
  const data = scratchFolder();
  await putLedger(data);
  const serving = await serveIn(data);
  const { hostname, port } = new URL(serving.url);
  const idle = connect(Number(port), hostname);
  await new Promise((resolve) => idle.once('connect', resolve));
  const closed = new Promise((resolve) => idle.once('close', resolve));
  idle.on('error', () => undefined);
  idle.write('GET /sign-in HTTP/1.1\r\nHost: x\r\n');
  expect(await serving.stop()).toBe(0);
  await closed;
}, 60_000);

it('with a relay that never ends its answer: rides are counted meanwhile, and it ends within five seconds', async () => {
  const data = scratchFolder();
  await putLedger(data, {
    ...manyForks({
      count: 1,
      openDays: ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'],
      digestHour: 0,
      fittedOn: '2020-01-01',
      history: () => ({ terrainHours: 55, movingHours: 55, asOf: '2024-01-01' }),
    }),
  });
  let isAnswering = false;
  const relay = createServer((socket) => {
    socket.on('error', () => undefined);
    socket.write('220 relay.example.org\r\n');
    socket.once('data', () => {
      isAnswering = true;
      const more = setInterval(() => socket.write('250-X\r\n'), 1000);
      socket.once('close', () => clearInterval(more));
    });
  });
  await new Promise<void>((resolve) => relay.listen(0, '127.0.0.1', resolve));
  onTestFinished(() => void relay.close());
  const url = `smtp://127.0.0.1:${(relay.address() as AddressInfo).port}`;
  const serving = await serveIn(data, { STANCHION_SMTP_URL: url });
  await eventually(() => (isAnswering ? true : null));
  layDown(data, 'ride.gpx', rideText(1));
  await eventually(() => (existsSync(join(data, 'inbox/r1/what happened.txt')) ? true : null));
  expect(whatHappened(data)).toContain('ride.gpx: counted');
  expect((await serving.get('/sign-in')).status).toBe(200);
  const asked = performance.now();
  expect(await serving.stop()).toBe(0);
  expect(performance.now() - asked).toBeLessThan(5000);
  expectSound(data);
}, 180_000);
