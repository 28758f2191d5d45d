/** Machines that share a server and a folder of originals, as programs that are run. */
import { mkdirSync, readdirSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as later } from 'node:timers/promises';
import { expect, onTestFinished, test } from 'vitest';
import { openStore } from '../../src/store/open.js';
import { instant } from '../../src/units.js';
import { gpxText, straightTrack } from '../fixtures/gpxFile.js';
import { runProgram, scratchFolder, startProgram } from '../fixtures/program.js';
import { newPlace } from '../fixtures/storePlace.js';
import { startServer } from './server.js';

const SECRET = 'an invented secret of enough letters';
const NOW = '2026-06-10T09:00:00Z';

/** Invented: one rider, one bike, one fork. */
const DOCUMENT = {
  workshop: {
    id: 'w1',
    name: 'Test bench',
    timeZone: 'Etc/UTC',
    openDays: ['mon'],
    remindersFrom: '2020-01-01',
    email: 'b@example.org',
  },
  riders: [{ id: 'r1', name: 'Rider One', email: 'r1@example.org', addressConfirmed: true }],
  bikes: [{ id: 'b1', rider: 'r1', name: 'Bike one', type: 'trail' }],
  units: [{ tag: 'F-1', unitKind: 'fork', history: 'new' }],
  fittings: [{ unit: 'F-1', bike: 'b1', from: '2026-01-01' }],
};
const ride = (start: string): string =>
  gpxText([{ type: 'cycling', segments: [straightTrack(Date.parse(start), 1801)] }]);

/** A data folder on a server's store, with what runs the program there. */
function machineOn(url: string, originals: string) {
  const data = scratchFolder();
  const env = { STANCHION_DATABASE_URL: url, STANCHION_SECRET: SECRET, STANCHION_ORIGINALS: originals };
  const run = (...args: string[]) => {
    const ran = runProgram([...args, '--data', data], env);
    expect(ran.stderr).toBe('');
    return ran;
  };
  return { data, env, run };
}

function fileWith(text: string, name: string): string {
  const path = join(scratchFolder(), name);
  writeFileSync(path, text);
  return path;
}

test('a file that one machine took is kept where all reach it, and forgotten from another', async () => {
  const url = await newPlace();
  const originals = join(scratchFolder(), 'originals');
  const [one, other] = [machineOn(url, originals), machineOn(url, originals)];
  one.run('import', fileWith(JSON.stringify(DOCUMENT), 'w.json'));
  one.run('take', fileWith(ride('2026-06-01T08:00:00Z'), 'a.gpx'), '--bike', 'b1', '--now', NOW);
  const kept = (): string[] =>
    readdirSync(originals, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => entry.name);
  expect(kept()).toHaveLength(1);
  const due = () => other.run('due', '--json', '--now', NOW).rows;
  expect(due()[0]).toMatchObject({ unit: 'F-1', movingHoursSince: 0.5 });
  other.run('rider', 'r1', 'forget');
  expect(kept()).toEqual([]);
  expect(other.run('check', '--json').rows).toMatchObject([{ ok: true }]);
});

test('a server that goes away under the running program is told of, and the program goes on once it is back', async () => {
  const server = await startServer();
  onTestFinished(() => server.stop());
  const { data, env, run } = machineOn(server.url, join(scratchFolder(), 'originals'));
  run('import', fileWith(JSON.stringify(DOCUMENT), 'w.json'));
  const { child, firstLine, stop } = await startProgram(['serve', '--port', '0', '--data', data], env);
  const url = /http:\/\/\S+/.exec(firstLine)![0].replace(/\/$/, '');
  const isReady = async (): Promise<boolean> => (await fetch(`${url}/readyz`)).status === 200;
  await until(isReady);

  await server.halt();
  await until(async () => !(await isReady()));
  expect(await (await fetch(`${url}/readyz`)).text()).toContain('The store does not answer.');
  const page = await fetch(`${url}/sign-in`);
  expect(page.status).toBe(503);
  expect(await page.text()).not.toMatch(/node_modules|ECONNREFUSED|127\.0\.0\.1/);
  const folder = join(data, 'inbox', 'r1', 'b1');
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, 'a.part'), ride('2026-06-01T08:00:00Z'));
  renameSync(join(folder, 'a.part'), join(folder, 'a.gpx'));
  await later(500);

  await server.resume();
  await until(isReady);
  await until(async () => Number(run('due', '--json').rows[0]?.movingHoursSince) > 0);
  expect(run('due', '--json').rows[0]).toMatchObject({ unit: 'F-1', movingHoursSince: 0.5 });
  expect(child.exitCode).toBeNull();

  await server.halt();
  expect(await stop()).toBe(0);
});

test('a server that goes away between two queries fails the work under way, and not the program', async () => {
  const server = await startServer();
  onTestFinished(() => server.stop());
  const store = await openStore(server.url, instant(0));
  onTestFinished(() => store.close());
  const work = store.write(async (tx) => {
    await tx.facts.count();
    await server.halt();
    await later(300);
    return tx.facts.count();
  });
  await expect(work).rejects.toMatchObject({ code: 'store-failed' });
  await server.resume();
  expect(await store.read((tx) => tx.facts.count())).toBe(0);
});

async function until(holds: () => Promise<boolean>): Promise<void> {
  for (let tries = 0; !(await holds()); tries += 1) {
    expect(tries).toBeLessThan(150);
    await later(200);
  }
}
