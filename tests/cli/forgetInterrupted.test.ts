/** To forget a rider, ended in the middle of it: what is left is said and noted, and the next call or start finishes it. */
import { spawn } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import SQLite from 'better-sqlite3';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { serveIn } from '../faults/serving.js';
import { gpxText, straightTrack } from '../fixtures/gpxFile.js';
import { eventually, PROGRAM, scratchFolder } from '../fixtures/program.js';
import { runBuilt, runHere } from '../fixtures/runHere.js';

const NOW = '2025-06-18T12:00:00Z';
const NAME = 'Quillon Testrider';
const EMAIL = 'quillon@example.org';
const RIDES = 12;
const FORGET = ['rider', 'quillon', 'forget'];

let made = '';
const at = (data: string): string[] => ['--data', data, '--now', NOW];

beforeAll(async () => {
  made = mkdtempSync(join(tmpdir(), 'stanchion-forget-'));
  const data = join(made, 'data');
  const document = {
    workshop: {
      id: 'w1',
      name: 'Test bench',
      timeZone: 'UTC',
      openDays: ['mon'],
      remindersFrom: '2020-01-01',
    },
    riders: [{ id: 'quillon', name: NAME, email: EMAIL, addressConfirmed: true }],
    bikes: [{ id: 'b1', rider: 'quillon', name: 'Bike one', type: 'trail' }],
    units: [{ tag: 'F-1', unitKind: 'fork', history: 'new' }],
    fittings: [{ unit: 'F-1', bike: 'b1', from: '2025-01-01' }],
    hours: [1, 2, 3].map((day) => ({ bike: 'b1', on: `2025-06-0${day}`, minutes: 1400 })),
  };
  writeFileSync(join(made, 'setup.json'), JSON.stringify(document));
  expect((await runHere(['import', join(made, 'setup.json'), ...at(data)])).status).toBe(0);
  const rides = join(made, 'rides');
  mkdirSync(rides);
  for (let i = 0; i < RIDES; i++) {
    const track = { type: 'cycling', segments: [straightTrack(Date.UTC(2025, 4, 1 + i, 9), 300)] };
    writeFileSync(join(rides, `${i}.gpx`), gpxText([track]));
  }
  const taken = await runBuilt(['take', rides, '--rider', 'quillon', '--bike', 'b1', '--json', ...at(data)]);
  expect(taken.rows.filter(({ outcome }) => outcome === 'counted')).toHaveLength(RIDES);
  expect((await runHere(['mails', ...at(data)])).status).toBe(0);
  mkdirSync(join(data, 'backups'));
  expect((await runHere(['backup', join(made, 'before.db'), ...at(data)])).status).toBe(0);
  for (const name of [
    'backups/stanchion-2025-06-16.db',
    'backups/stanchion-2025-06-17.db',
    'stanchion.db.replaced-2025',
  ])
    cpSync(join(made, 'before.db'), join(data, name));
}, 120_000);
afterAll(() => rmSync(made, { recursive: true, force: true }));

const copied = (): string => {
  const data = join(scratchFolder(), 'data');
  cpSync(join(made, 'data'), data, { recursive: true });
  return data;
};

const filesBelow = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name));

/** Every file below the data folder that still tells who the rider was. */
const holding = (data: string): string[] =>
  filesBelow(data).filter((path) => {
    const bytes = readFileSync(path);
    return [NAME, EMAIL].some((text) => bytes.includes(text));
  });

/** A process that is killed takes nothing away, and what it left in the data folder then names nobody. */
async function expectForgotten(data: string, left = /owed|replaced|\.part/): Promise<void> {
  expect(holding(data)).toEqual([]);
  expect(filesBelow(join(data, 'originals'))).toEqual([]);
  expect(readdirSync(data).filter((name) => left.test(name))).toEqual([]);
  const backups = readdirSync(join(data, 'backups')).filter((name) => !name.includes('.part'));
  expect(backups).toEqual(['stanchion-2025-06-18.db']);
  expect((await runHere(['check', '--json', ...at(data)])).rows).toMatchObject([{ ok: true }]);
  const { rows } = await runHere(['due', '--json', ...at(data)]);
  expect(rows[0]!.movingHoursSince).toBeCloseTo(70 + (RIDES * 300) / 3600, 1);
}

/** A store that was left by a process that was killed is put right by whoever opens it. */
const isContactGone = (data: string, readonly = false): boolean => {
  const database = new SQLite(join(data, 'stanchion.db'), { readonly });
  try {
    return database.prepare('select count(*) from contact').pluck().get() === 0;
  } finally {
    database.close();
  }
};

/** The same while the command is at work, whom a look at it does not hold up. */
const isSeenGone = (data: string): boolean => {
  try {
    return isContactGone(data, true);
  } catch (error) {
    if (error instanceof SQLite.SqliteError) return false;
    throw error;
  }
};

/** What is seen of how far it is, in its order. */
const SIGNS: Readonly<Record<string, (data: string) => boolean>> = {
  'the id is noted': (data) => existsSync(join(data, 'forgotten.txt')),
  'files are being deleted': (data) => filesBelow(join(data, 'originals')).length < RIDES,
  'the store has forgotten': isSeenGone,
  'the database file is swept': (data) => isSeenGone(data) && !existsSync(join(data, 'sweep-owed')),
  'the new backup is there': (data) => existsSync(join(data, 'backups/stanchion-2025-06-18.db')),
};

/** Gives a command and ends it once the sign is seen. Returns its answer; the status is null where it was killed. */
async function ended(args: readonly string[], signal: NodeJS.Signals, isSeen: () => boolean) {
  const child = spawn(process.execPath, [PROGRAM, ...args], { env: { PATH: process.env.PATH } });
  let [said, complained] = ['', ''];
  child.stdout.on('data', (chunk) => {
    said += String(chunk);
  });
  child.stderr.on('data', (chunk) => {
    complained += String(chunk);
  });
  let hasEnded = false;
  const end = new Promise<number | null>((resolve) =>
    child.once('close', (status) => {
      hasEnded = true;
      resolve(status);
    }),
  );
  while (!hasEnded && !isSeen()) await new Promise(setImmediate);
  child.kill(signal);
  return { status: await end, said, complained };
}

const ENDS: readonly (readonly [NodeJS.Signals, string])[] = [
  ...Object.keys(SIGNS).map((sign) => ['SIGKILL', sign] as const),
  ['SIGINT', 'files are being deleted'] as const,
  ['SIGTERM', 'the id is noted'] as const,
];

it.each(ENDS)('ended by %s once %s, it is finished by the next call', async (signal, sign) => {
  for (let tries = 0; ; tries++) {
    const data = copied();
    const first = await ended([...FORGET, '--json', ...at(data)], signal, () => SIGNS[sign]!(data));
    // On a busy machine it may be done before it is ended.
    if (first.status === 0 && tries < 5) continue;
    expect(first.status).toBe(signal === 'SIGKILL' ? null : 1);
    if (signal !== 'SIGKILL') {
      const { error } = JSON.parse(first.said) as { error: object };
      expect(error).toMatchObject({
        code: 'interrupted',
        message: expect.stringContaining('not forgotten everywhere yet'),
        hint: expect.stringContaining('same command again'),
      });
      expect(first.complained).toContain('stanchion: Interrupted:');
    }
    const again = await runHere([...FORGET, '--json', ...at(data)]);
    expect([again.status, again.rows[0]!.did], again.stderr).toEqual([0, 'rider forget']);
    await expectForgotten(data, signal === 'SIGKILL' ? /-owed$|replaced/ : undefined);
    // Then there is nobody of that name, and nothing to finish.
    expect((await runHere([...FORGET, '--json', ...at(data)])).rows).toMatchObject([
      { error: { code: 'not-found' } },
    ]);
    return;
  }
});

it('a server that starts finishes it too, the backups with it', async () => {
  const data = copied();
  await ended([...FORGET, ...at(data)], 'SIGKILL', () => SIGNS['the store has forgotten']!(data));
  expect(existsSync(join(data, 'renewal-owed'))).toBe(true);
  expect(holding(data).length).toBeGreaterThan(2);
  const serving = await serveIn(data, { STANCHION_BACKUPS_KEPT: '0' }, ['--now', NOW]);
  await eventually(() => (existsSync(join(data, 'renewal-owed')) ? null : true));
  expect(serving.log()).toContain('backups that held who was forgotten gave way to a new one');
  expect(await serving.stop()).toBe(0);
  await expectForgotten(data, /-owed$|replaced/);
});

it('a restore that was killed once the old store was back is followed by forgetting again', async () => {
  for (let tries = 0; ; tries++) {
    const data = copied();
    expect((await runHere([...FORGET, ...at(data)])).status).toBe(0);
    const file = join(data, 'stanchion.db');
    const { ino } = statSync(file);
    const killed = await ended(
      ['restore', join(made, 'before.db'), ...at(data)],
      'SIGKILL',
      () => statSync(file, { throwIfNoEntry: false })?.ino !== ino,
    );
    if (tries < 5 && (killed.status === 0 || isContactGone(data))) continue;
    expect(isContactGone(data)).toBe(false);
    const serving = await serveIn(data, { STANCHION_BACKUPS_KEPT: '0' }, ['--now', NOW]);
    await eventually(() => (existsSync(join(data, 'sweep-owed')) ? null : true));
    expect(serving.log()).toContain('who had come back with a backup is forgotten again');
    expect(await serving.stop()).toBe(0);
    // What the restore set aside is the store that had forgotten already.
    expect(holding(data)).toEqual([]);
    return;
  }
});
