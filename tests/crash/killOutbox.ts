/** Runs the built program against a relay on this machine and kills it at random moments, again and again. */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import SQLite from 'better-sqlite3';
import { type Chance, seeded } from '../../samples/seeded.js';
import { manyForks } from '../fixtures/manyForks.js';
import { PROGRAM, runProgram } from '../fixtures/program.js';
import { type Relay, startRelay, type TakenMail } from '../fixtures/relay.js';

/** A Wednesday morning after the digest's hour: everything that is due goes out at once. */
const NOW = '2026-06-10T09:00:00Z';
/** As many as are reminded in a day. */
const RIDERS = 20;
/** What a start may take, and how long a busy machine is waited for. Units: milliseconds. */
const START_MS = 3000;
const PATIENCE_MS = 90_000;
const COMMAND_PATIENCE_MS = 10 * 60_000;

export interface Figures {
  readonly kills: number;
  /** Killed while it was starting or deciding, before this run had sent anything. */
  readonly beforeSending: number;
  readonly notices: number;
  readonly mails: number;
  /** Mails that never came. */
  readonly lost: number;
  /** Taken by the relay more than once. */
  readonly repeated: number;
  /** Of these, those whose answer was cut off by a kill: nobody can know whether they arrived. */
  readonly answerLost: number;
  readonly faults: readonly string[];
}

/** Invented: each rider has a fork that is due. */
const DOCUMENT = manyForks({
  count: RIDERS,
  timeZone: 'Europe/Lisbon',
  openDays: ['mon', 'tue', 'wed', 'thu', 'fri'],
  history: (n) => ({ terrainHours: 51 + (n % 3), movingHours: 51, asOf: '2026-06-01' }),
});

/** One life of the program: what the relay took in it, and whether it was killed. */
interface Life {
  readonly taken: readonly TakenMail[];
  readonly isKilled: boolean;
}

const COUNTED = ['kills', 'beforeSending', 'notices', 'mails', 'lost', 'repeated', 'answerLost'] as const;
const NOTHING: Figures = {
  kills: 0,
  beforeSending: 0,
  notices: 0,
  mails: 0,
  lost: 0,
  repeated: 0,
  answerLost: 0,
  faults: [],
};

const added = (a: Figures, b: Figures): Figures => ({
  ...(Object.fromEntries(COUNTED.map((name) => [name, a[name] + b[name]])) as unknown as Figures),
  faults: [...a.faults, ...b.faults],
});

/** Returns figures and faults of so many kills; the same seed chooses the same moments. Each workshop's end is told. */
export async function killOutbox(
  kills: number,
  seed: number,
  tell: (soFar: Figures) => void,
): Promise<Figures> {
  const chance = seeded(`kill ${seed}`);
  let sum = NOTHING;
  while (sum.kills < kills) {
    sum = added(sum, await oneCycle(kills - sum.kills, chance));
    tell(sum);
  }
  return sum;
}

/** A workshop from its first mail to its last, killed on the way. */
async function oneCycle(most: number, chance: Chance): Promise<Figures> {
  const folder = mkdtempSync(join(tmpdir(), 'stanchion-crash-'));
  const relay = await startRelay();
  relay.delay = () => Math.floor(chance.between(0, 12));
  try {
    const file = join(folder, 'setup.json');
    writeFileSync(file, JSON.stringify(DOCUMENT));
    const imported = runProgram(['import', file, '--data', folder, '--now', NOW], {}, COMMAND_PATIENCE_MS);
    if (imported.status !== 0)
      throw new Error(`The import ended with ${imported.status}: ${imported.stderr}`);
    const lives: Life[] = [];
    while (lives.length < most && countLeft(folder) !== 0) lives.push(await lifeOf(folder, relay, chance));
    lives.push(await lastLife(folder, relay));
    const killed = lives.filter((life) => life.isKilled);
    const ids = new Set(relay.taken.map((one) => one.messageId));
    const { again, answerLost, faults } = repeatsIn(lives);
    return {
      kills: killed.length,
      beforeSending: killed.filter((life) => life.taken.length === 0).length,
      notices: read(folder, 'select id from notice').length,
      mails: ids.size,
      lost: RIDERS + 1 - new Set(relay.taken.map((one) => one.to)).size,
      repeated: again,
      answerLost,
      faults: [...faults, ...faultsIn(folder, relay)],
    };
  } finally {
    await relay.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

const start = (folder: string, relay: Relay): ChildProcess =>
  spawn(process.execPath, [PROGRAM, 'serve', '--port', '0', '--data', folder, '--now', NOW], {
    env: { PATH: process.env.PATH, STANCHION_SMTP_URL: relay.url },
    stdio: 'ignore',
  });

const exitOf = (child: ChildProcess): Promise<void> =>
  new Promise((resolve) => child.once('exit', () => resolve()));

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

/** Resolves when it is so, or when nothing is left to be sent. */
async function until(isSo: () => boolean, folder: string): Promise<void> {
  for (let waited = 0; !isSo() && waited < PATIENCE_MS; waited++) {
    await pause(1);
    if (waited % 200 === 199 && countLeft(folder) === 0) return;
  }
}

/**
 * Waits for a moment to kill at: somewhere in its start, while one of its first mails is handed over, or while it is
 * answered, marked, and the next one written.
 */
async function untilItsMoment(folder: string, relay: Relay, chance: Chance): Promise<void> {
  const [connections, taken] = [relay.connections(), relay.taken.length];
  const count = Math.floor(chance.between(1, 4));
  const kind = chance.next();
  if (kind < 0.15) return pause(chance.between(0, START_MS));
  if (kind < 0.5) {
    await until(() => relay.connections() >= connections + count, folder);
    return pause(chance.between(0, 10));
  }
  await until(() => relay.taken.length >= taken + count, folder);
  return pause(chance.between(0, kind < 0.8 ? 20 : 150));
}

async function lifeOf(folder: string, relay: Relay, chance: Chance): Promise<Life> {
  const before = relay.taken.length;
  const child = start(folder, relay);
  const exited = exitOf(child);
  await untilItsMoment(folder, relay, chance);
  child.kill('SIGKILL');
  await exited;
  await relay.quiet();
  return { taken: relay.taken.slice(before), isKilled: true };
}

/** Lets it finish its work, and ends it as a person would. */
async function lastLife(folder: string, relay: Relay): Promise<Life> {
  const before = relay.taken.length;
  const child = start(folder, relay);
  const exited = exitOf(child);
  for (let waited = 0; countLeft(folder) !== 0 && waited < PATIENCE_MS; waited += 50) await pause(50);
  child.kill('SIGTERM');
  await exited;
  await relay.quiet();
  return { taken: relay.taken.slice(before), isKilled: false };
}

function read<T>(folder: string, query: string): T[] {
  const database = new SQLite(join(folder, 'stanchion.db'), { readonly: true });
  try {
    return database.prepare(query).all() as T[];
  } finally {
    database.close();
  }
}

/** Mails that wait; null before any was decided. */
function countLeft(folder: string): number | null {
  const rows = read<{ state: string }>(folder, 'select state from mail');
  return rows.length === 0 ? null : rows.filter((row) => row.state === 'waiting').length;
}

/** A mail may come again only where its first taking was the last thing of a life that was cut off. */
function repeatsIn(
  lives: readonly Life[],
): Pick<Figures, 'answerLost' | 'faults'> & { readonly again: number } {
  const faults: string[] = [];
  const first = new Map<string, TakenMail>();
  const mayRepeat = new Set<string>();
  let [again, answerLost] = [0, 0];
  for (const { taken, isKilled } of lives) {
    for (const mail of taken) {
      const known = first.get(mail.messageId);
      if (!known) {
        first.set(mail.messageId, mail);
        continue;
      }
      again++;
      if (!mayRepeat.delete(mail.messageId)) faults.push(`${mail.to} got ${mail.messageId} again`);
      else if (known.raw !== mail.raw) faults.push(`${mail.to} got ${mail.messageId} in other words`);
      else answerLost++;
    }
    const last = taken.at(-1);
    if (isKilled && last) mayRepeat.add(last.messageId);
  }
  return { again, answerLost, faults };
}

/** Nothing lost, nothing told twice, and the ledger sound. */
function faultsIn(folder: string, relay: Relay): string[] {
  const faults: string[] = [];
  const expected = [...DOCUMENT.riders.map((rider) => rider.email), 'bench@example.org'];
  for (const address of expected) {
    const ids = new Set(relay.taken.filter((one) => one.to === address).map((one) => one.messageId));
    if (ids.size !== 1) faults.push(`${address} got ${ids.size} mails`);
  }
  const states = read<{ state: string }>(folder, 'select state from mail').map((row) => row.state);
  if (states.length !== expected.length) faults.push(`${states.length} mails in the outbox`);
  if (states.some((state) => state !== 'handed-over')) faults.push(`in the outbox: ${states.join(' ')}`);
  const notices = read<{ key: string; withdrawn: number | null }>(
    folder,
    'select key, withdrawn_at_ms as withdrawn from notice',
  );
  // A due fork is told to its rider and to the workshop.
  if (notices.length !== 2 * RIDERS) faults.push(`${notices.length} notices`);
  if (new Set(notices.map((one) => one.key)).size !== notices.length) faults.push('a notice stands twice');
  if (notices.some((one) => one.withdrawn !== null)) faults.push('a notice was withdrawn');
  const check = runProgram(['check', '--json', '--data', folder, '--now', NOW], {}, COMMAND_PATIENCE_MS);
  if (check.rows[0]?.ok !== true) faults.push(`check: ${check.stdout}${check.stderr}`);
  return faults;
}
