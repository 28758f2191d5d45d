/** Another program that holds the database: the pages answer, commands say why they cannot, and work goes on after it. */
import { join } from 'node:path';
import SQLite from 'better-sqlite3';
import { expect, it, onTestFinished } from 'vitest';
import { eventually, runProgram, scratchFolder } from '../fixtures/program.js';
import { expectSound, layDown, putLedger, rideText, type Serving, serveIn, untilCounted } from './serving.js';

const whyNot = async (serving: Serving): Promise<unknown> =>
  ((await (await serving.get('/readyz')).json()) as { why: unknown }).why;

it('locked by another: pages answer, a command says why not, and the ride is counted afterwards', async () => {
  const data = scratchFolder();
  await putLedger(data);
  const serving = await serveIn(data);
  layDown(data, 'first.gpx', rideText(1));
  await untilCounted(data, 1);
  // This process is another program to the one that serves.
  const other = new SQLite(join(data, 'stanchion.db'));
  onTestFinished(() => void other.close());
  other.exec('begin exclusive');
  layDown(data, 'second.gpx', rideText(2));
  const refused = runProgram(['hours', 'b1', '--on', '2025-01-02', '--minutes', '30', '--data', data]);
  expect(refused.status).toBe(3);
  expect(refused.stderr).toMatch(/Another program holds the database.*\n.*Close it, and try again/);
  await eventually(() => (serving.log().includes('Another program holds the database') ? true : null));
  expect((await serving.get('/sign-in')).status).toBe(200);
  expect((await serving.get('/healthz')).status).toBe(200);
  other.exec('rollback');
  await untilCounted(data, 2);
  expect(await whyNot(serving)).toEqual([]);
  expect(await serving.stop()).toBe(0);
  expectSound(data);
}, 180_000);
