/** Asked to end, it ends what it has begun, and leaves nothing half done. */
import { existsSync } from 'node:fs';
import { connect } from 'node:net';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { scratchFolder } from '../fixtures/program.js';
import {
  countedRides,
  expectSound,
  layDown,
  makeLedger,
  rideText,
  serveIn,
  untilCounted,
} from './serving.js';

it('in the middle of a delivery: it ends well, and the next one takes the rest', async () => {
  const data = scratchFolder();
  makeLedger(data);
  const rides = 25;
  for (let i = 1; i <= rides; i += 1) layDown(data, `ride ${i}.gpx`, rideText(i));
  const first = await serveIn(data);
  expect((await first.get('/sign-in')).status).toBe(200);
  expect(await first.stop()).toBe(0);
  expect(first.log()).not.toContain('"level":50');
  // A store that was closed leaves no log of its own behind.
  expect(existsSync(join(data, 'stanchion.db-wal'))).toBe(false);
  expect(countedRides(data)).toBeLessThanOrEqual(rides);
  expectSound(data);
  const second = await serveIn(data);
  await untilCounted(data, rides);
  expect(await second.stop()).toBe(0);
  expectSound(data);
}, 180_000);

it('with somebody connected who never asks for anything: it ends all the same', async () => {
  const data = scratchFolder();
  makeLedger(data);
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
