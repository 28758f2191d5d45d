import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import SQLite from 'better-sqlite3';
import { expect, onTestFinished } from 'vitest';
import { gpxText, straightTrack } from '../fixtures/gpxFile.js';
import { eventually, PROGRAM, runProgram, scratchFolder } from '../fixtures/program.js';
import { runHere } from '../fixtures/runHere.js';

const DAY_MS = 86_400_000;
const RIDE_S = 600;

/** Invented: one rider, one bike, one new fork. */
const DOCUMENT = {
  workshop: {
    id: 'w1',
    name: 'Test bench',
    timeZone: 'UTC',
    openDays: ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'],
    remindersFrom: '2020-01-01',
    email: 'bench@example.org',
  },
  riders: [{ id: 'r1', name: 'Rider One', email: 'r1@example.org', addressConfirmed: true }],
  bikes: [{ id: 'b1', rider: 'r1', name: 'Bike one', type: 'trail' }],
  units: [{ tag: 'F-1', unitKind: 'fork', history: 'new' }],
  fittings: [{ unit: 'F-1', bike: 'b1', from: '2020-01-01' }],
};

/** Makes a ledger in the folder. */
export function makeLedger(data: string, document: object = DOCUMENT): void {
  const file = join(scratchFolder(), 'setup.json');
  writeFileSync(file, JSON.stringify(document));
  const made = runProgram(['import', file, '--data', data]);
  if (made.status !== 0) throw new Error(made.stderr);
}

/** The same in this process, which takes a fraction of the time. */
export async function putLedger(data: string, document: object = DOCUMENT): Promise<void> {
  const file = join(scratchFolder(), 'setup.json');
  writeFileSync(file, JSON.stringify(document));
  const made = await runHere(['import', file, '--data', data]);
  if (made.status !== 0) throw new Error(made.stderr);
}

/** Ten minutes of riding, so many days ago; each number is another ride. */
export const rideText = (daysAgo: number): string =>
  gpxText([
    {
      type: 'cycling',
      segments: [straightTrack(Math.floor((Date.now() - daysAgo * DAY_MS) / 1000) * 1000, RIDE_S)],
    },
  ]);

/** Lays a file where the rider would; it is there at once and whole. */
export function layDown(data: string, name: string, text: string): void {
  const folder = join(data, 'inbox/r1/b1');
  mkdirSync(folder, { recursive: true });
  const part = join(folder, `${name}.part`);
  writeFileSync(part, text);
  renameSync(part, join(folder, name));
}

/** Rides of `rideText` that count for the fork. */
export async function countedRides(data: string): Promise<number> {
  const due = await runHere(['due', '--json', '--data', data]);
  if (due.status !== 0) throw new Error(due.stderr);
  const row = due.rows.find((one) => one.unit === 'F-1' && one.serviceKind === 'lower-leg')!;
  return Math.round(((row.movingHoursSince as number) * 3600) / RIDE_S);
}

/** Waits for so many rides in the store, then asks what the fork was charged. */
export async function untilCounted(data: string, rides: number): Promise<void> {
  await eventually(() => (storedRides(data) >= rides ? true : null));
  expect(await countedRides(data)).toBe(rides);
}

function storedRides(data: string): number {
  const database = new SQLite(join(data, 'stanchion.db'), { readonly: true });
  try {
    return database.prepare('select count(*) from ride where counts = 1').pluck().get() as number;
  } finally {
    database.close();
  }
}

/** Empty before anything was told. */
export function whatHappened(data: string): string {
  const file = join(data, 'inbox/r1/what happened.txt');
  return existsSync(file) ? readFileSync(file, 'utf8') : '';
}

export function expectSound(data: string): void {
  expect(runProgram(['check', '--json', '--data', data]).rows).toMatchObject([{ ok: true, faults: [] }]);
}

export interface Serving {
  readonly url: string;
  readonly child: ChildProcess;
  /** All that it said on stderr, its log. */
  log(): string;
  get(path: string): Promise<Response>;
  /** Asks it to end; returns its exit status. */
  stop(): Promise<number | null>;
}

/** Starts the built program as a service, as another user where one is named; it is ended with the test. */
export async function serveIn(
  data: string,
  env: Readonly<Record<string, string>> = {},
  more: readonly string[] = [],
  as: { readonly uid?: number; readonly gid?: number } = {},
): Promise<Serving> {
  const child = spawn(
    process.execPath,
    [PROGRAM, 'serve', '--json', '--port', '0', '--data', data, ...more],
    {
      env: { PATH: process.env.PATH, HOME: process.env.HOME, ...env },
      ...{ stdio: ['ignore', 'pipe', 'pipe'], ...as },
    },
  );
  let said = '';
  let log = '';
  child.stdout.on('data', (chunk) => {
    said += String(chunk);
  });
  child.stderr.on('data', (chunk) => {
    log += String(chunk);
  });
  const ended = new Promise<number | null>((resolve) => child.once('exit', resolve));
  const stop = (): Promise<number | null> => {
    child.kill('SIGTERM');
    return ended;
  };
  onTestFinished(async () => void (await stop()));
  const line = await eventually(() => {
    if (child.exitCode !== null) throw new Error(`It ended with ${child.exitCode}: ${log}`);
    return said.includes('\n') ? said.slice(0, said.indexOf('\n')) : null;
  });
  const { url } = JSON.parse(line) as { url: string };
  return {
    url,
    child,
    log: () => log,
    get: (path) => fetch(url + path, { redirect: 'manual', headers: { connection: 'close' } }),
    stop,
  };
}

/** Whether this user may mount a small disk; a machine where not leaves those tests out. */
export const canMount = ((): boolean => {
  const probe = spawnSync('unshare', ['-m', 'mount', '-t', 'tmpfs', 'tmpfs', '/mnt']);
  return probe.status === 0;
})();

/** Returns a small disk of its own, gone when the test ends; and how to make it read-only and writable again. */
export function smallDisk(bytes: number): { readonly folder: string; remount(how: 'ro' | 'rw'): void } {
  const folder = scratchFolder();
  const run = (...args: string[]): void => {
    const { status, stderr } = spawnSync(args[0]!, args.slice(1), { encoding: 'utf8' });
    if (status !== 0) throw new Error(stderr);
  };
  run('mount', '-t', 'tmpfs', '-o', `size=${bytes}`, 'tmpfs', folder);
  onTestFinished(() => run('umount', '-l', folder));
  return { folder, remount: (how) => run('mount', '-o', `remount,${how}`, folder) };
}
