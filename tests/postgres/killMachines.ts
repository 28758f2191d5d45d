/** Two machines, each with a drop folder of its own, on one server: killed at random moments, again and again. */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { seeded } from '../../samples/seeded.js';
import { gpxText, straightTrack } from '../fixtures/gpxFile.js';
import { manyForks, numbersTo } from '../fixtures/manyForks.js';
import { BUILT, PROGRAM, runProgram } from '../fixtures/program.js';
import { startRelay, type TakenMail } from '../fixtures/relay.js';

const RIDES = 5;
const RIDE_S = 45 * 60;
const DAY_MS = 24 * 3_600_000;
const SECRET = 'an invented secret of enough letters';
/** How long the relay takes to answer, so that kills meet mails on their way. Units: milliseconds. */
const ANSWER_MS = [0, 400] as const;
/** Between two kills: long enough that some work gets done. Units: milliseconds. */
const LIFE_MS = [300, 2500] as const;
const PATIENCE_MS = 120_000;

export interface Figures {
  readonly kills: number;
  /** Kills while a dropped file was not stored yet, and while a machine had claimed a mail. */
  readonly met: { files: number; mails: number };
  readonly files: number;
  readonly mails: number;
  /** Taken by the relay more than once: the answer to the first was lost with the one who sent it. */
  readonly repeated: number;
  readonly faults: readonly string[];
}

/** So many that files and mails come through all of the kills. */
const ridersFor = (kills: number): number => Math.max(6, Math.round(kills * 0.3));
const dayOf = (ms: number): string => new Date(ms).toISOString().slice(0, 10);

/** By the ride after which the nth fork is over its 50 hours: the first for some, the last for others. */
const hoursBefore = (n: number): number => 50.1 - (((n - 1) % RIDES) + 1) * (RIDE_S / 3600);

/** Invented: each rider's fork comes over its 50 hours by the rides that arrive, and not before them. */
const setup = (count: number, now: number) =>
  manyForks({
    count,
    openDays: ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'],
    digestHour: 0,
    history: (n) => ({
      terrainHours: hoursBefore(n),
      movingHours: hoursBefore(n),
      asOf: dayOf(now - 20 * DAY_MS),
    }),
    fittedOn: dayOf(now - 100 * DAY_MS),
  });

const rideBytes = (n: number, ride: number, now: number): string =>
  gpxText([{ segments: [pointsOf(now - (ride + 2) * DAY_MS - (n % 20) * 3_600_000)] }]);

/** Without elevation, so that an hour counts as one. */
const pointsOf = (startMs: number) =>
  straightTrack(startMs, RIDE_S + 1).map(({ lat, lon, time }) => ({ lat, lon, time: time! }));

/** One process of one machine, started again whenever it was killed. */
class Worker {
  #child: ChildProcess | null = null;
  #exited: Promise<void> = Promise.resolve();
  constructor(
    readonly args: readonly string[],
    readonly env: Readonly<Record<string, string>>,
  ) {}

  start(): void {
    if (this.#child !== null) return;
    const child = spawn(process.execPath, [...this.args], {
      env: { PATH: process.env.PATH, ...this.env },
      stdio: 'ignore',
    });
    this.#exited = new Promise((resolve) => child.once('exit', () => resolve()));
    this.#child = child;
  }

  /** Returns whether it was still alive. */
  async end(signal: 'SIGKILL' | 'SIGTERM'): Promise<boolean> {
    const child = this.#child;
    this.#child = null;
    const wasAlive = child?.exitCode === null && child.signalCode === null;
    child?.kill(signal);
    await this.#exited;
    return wasAlive;
  }
}

/** The first machine does everything in one process, the second each loop in its own. */
function workersOf(homes: readonly string[], url: string, relayUrl: string): Worker[] {
  const env = (home: string) => ({
    STANCHION_DATA: home,
    STANCHION_DATABASE_URL: url,
    STANCHION_SECRET: SECRET,
    STANCHION_SMTP_URL: relayUrl,
  });
  const [first, second] = homes as [string, string];
  const alone = ['ingest', 'remind', 'deliver', 'keep'].map((name) => join(BUILT, `workers/${name}.js`));
  return [
    new Worker([PROGRAM, 'serve', '--port', '0'], env(first)),
    ...alone.map((script) => new Worker([script], env(second))),
  ];
}

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

/** Drops the riders' files in turn, half of them on each machine, each under its name only once it is whole. */
function* drops(riders: number, homes: readonly string[], now: number): Generator<void> {
  for (let ride = 0; ride < RIDES; ride += 1)
    for (const n of numbersTo(riders)) {
      const folder = join(homes[(n + ride) % 2]!, 'inbox', `r${n}`, `b${n}`);
      mkdirSync(folder, { recursive: true });
      const draft = join(homes[0]!, 'draft');
      writeFileSync(draft, rideBytes(n, ride, now));
      renameSync(draft, join(folder, `ride ${ride}.gpx`));
      yield;
    }
}

/** Returns figures and faults of so many kills on one empty database; the same seed chooses the same moments. */
export async function killMachines(url: string, kills: number, seed: number): Promise<Figures> {
  const chance = seeded(`machines ${seed}`);
  const now = Date.now();
  const riders = ridersFor(kills);
  const root = mkdtempSync(join(tmpdir(), 'stanchion-machines-'));
  const homes = ['first', 'second'].map((name) => join(root, name));
  const relay = await startRelay();
  relay.delay = () => Math.floor(chance.between(...ANSWER_MS));
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  const workers = workersOf(homes, url, relay.url);
  try {
    for (const home of homes) mkdirSync(home);
    const file = join(root, 'setup.json');
    writeFileSync(file, JSON.stringify(setup(riders, now)));
    const env = { STANCHION_DATABASE_URL: url, STANCHION_SECRET: SECRET };
    const imported = runProgram(['import', file, '--data', homes[0]!], env);
    if (imported.status !== 0) throw new Error(imported.stderr);

    const dropping = drops(riders, homes, now);
    const perDrop = kills / (riders * RIDES);
    const met = { files: 0, mails: 0 };
    let [done, dropped] = [0, 0];
    for (const worker of workers) worker.start();
    while (done < kills) {
      for (; dropped * perDrop <= done; dropped += 1) dropping.next();
      await pause(chance.between(...LIFE_MS));
      const worker = workers[Math.floor(chance.between(0, workers.length))]!;
      const stored = await numberIn(client, 'select count(*) as n from file');
      const claimed = await numberIn(client, 'select count(*) as n from mail where claimed_by is not null');
      if (await worker.end('SIGKILL')) {
        done += 1;
        if (stored < dropped) met.files += 1;
        if (claimed > 0) met.mails += 1;
      }
      worker.start();
    }
    for (const _ of dropping);
    await untilDone(client, riders);
    await relay.quiet();
    for (const worker of workers) await worker.end('SIGTERM');
    const check = runProgram(['check', '--json', '--data', homes[0]!], env);
    const faults = [...(await faultsIn(client, riders)), ...faultsOf(relay.taken)];
    if (check.rows[0]?.ok !== true) faults.push(`check: ${check.stdout}${check.stderr}`);
    const mails = new Set(relay.taken.map((mail) => mail.messageId)).size;
    const repeated = relay.taken.length - mails;
    return { kills: done, met, files: riders * RIDES, mails, repeated, faults };
  } finally {
    for (const worker of workers) await worker.end('SIGKILL');
    await client.end();
    await relay.close();
    rmSync(root, { recursive: true, force: true });
  }
}

async function numberIn(client: pg.Client, query: string): Promise<number> {
  const { rows } = await client.query<{ n: string | null }>(query);
  return Number(rows[0]!.n ?? 0);
}

/** What is for another day may wait. */
const WAITING = `select count(*) as n from mail
  where state = 'waiting' and send_at_ms <= extract(epoch from clock_timestamp()) * 1000`;

/** A rider may have been told before that it is coming up. */
const DUE =
  "select count(*) as n from notice where state = 'due' and recipient <> 'workshop' and withdrawn_at_ms is null";

/** Waits until every file is taken, each rider is told, and nothing waits to be sent. */
async function untilDone(client: pg.Client, riders: number): Promise<void> {
  for (let waited = 0; waited < PATIENCE_MS; waited += 250) {
    const files = await numberIn(client, 'select count(*) as n from file');
    const told = await numberIn(
      client,
      "select count(distinct recipient) as n from mail where state = 'handed-over' and recipient <> 'workshop'",
    );
    const due = await numberIn(client, DUE);
    const waiting = await numberIn(client, WAITING);
    if (files === riders * RIDES && told === riders && due === riders && waiting === 0) return;
    await pause(250);
  }
}

/** Every hour counted once, and every notice decided once. */
async function faultsIn(client: pg.Client, riders: number): Promise<string[]> {
  const faults: string[] = [];
  const expect = async (what: string, query: string, wanted: number): Promise<void> => {
    const found = await numberIn(client, query);
    if (found !== wanted) faults.push(`${what}: ${found}, not ${wanted}`);
  };
  await expect('files', 'select count(*) as n from file', riders * RIDES);
  await expect('arrivals', 'select count(*) as n from arrival', riders * RIDES);
  await expect('rides', 'select count(*) as n from ride where counts = 1', riders * RIDES);
  await expect('moving seconds', 'select sum(moving_s) as n from ride', riders * RIDES * RIDE_S);
  await expect('riders told that their fork is due', DUE, riders);
  await expect(
    'notices that stand twice',
    'select count(*) - count(distinct key) as n from notice where keeps_place = 1',
    0,
  );
  await expect('mails refused', "select count(*) as n from mail where state = 'refused'", 0);
  await expect('mails that wait', WAITING, 0);
  return faults;
}

/** A mail that comes again is the same mail. */
function faultsOf(taken: readonly TakenMail[]): string[] {
  const faults: string[] = [];
  const first = new Map<string, TakenMail>();
  for (const mail of taken) {
    const known = first.get(mail.messageId);
    if (known && known.raw !== mail.raw) faults.push(`${mail.to} got ${mail.messageId} in other words`);
    if (!known) first.set(mail.messageId, mail);
  }
  return faults;
}
