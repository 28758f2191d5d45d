/** Kills the built program at random moments of everything that it does, and looks at the ledger after each. */
import { type ChildProcess, spawn } from 'node:child_process';
import { type Chance, seeded } from '../../samples/seeded.js';
import { PROGRAM, runProgram } from '../fixtures/program.js';
import { type Relay, startRelay } from '../fixtures/relay.js';
import { CrashWorld, NOW, type Saying, SECRET } from './crashWorld.js';
import { repeatFaults, type Taken, worldFaults } from './endFaults.js';

/** What a kill is aimed at; of one cycle, in this order. */
export const AIMS = [
  ...['migration', 'files', 'mails', 'backup', 'facts', 'start', 'files', 'facts', 'backup', 'mails'],
  ...[
    'migration',
    'facts',
    'mails',
    'files',
    'start',
    'backup',
    'mails',
    'facts',
    'files',
    'files',
    'backup',
  ],
  ...['mails', 'start', 'facts', 'mails', 'files', 'facts', 'backup', 'facts', 'mails'],
] as const;
type Aim = (typeof AIMS)[number];

/** How long a moment is waited for; a busy machine may be slow to come to it. Units: milliseconds. */
const PATIENCE_MS = 60_000;
const START_MS = 3000;

export interface Figures {
  kills: number;
  /** Kills that met what they were aimed at. */
  readonly met: Record<Aim, number>;
  files: number;
  facts: number;
  notices: number;
  mails: number;
  /** Taken by the relay again: the answer to the first was lost. */
  repeated: number;
  readonly faults: string[];
}

/** Returns figures and faults of so many kills; the same seed chooses the same moments. */
export async function killEverything(
  kills: number,
  seed: number,
  onCycle: (figures: Figures) => void = () => undefined,
): Promise<Figures> {
  const chance = seeded(`kill all ${seed}`);
  const met = { migration: 0, files: 0, mails: 0, backup: 0, facts: 0, start: 0 };
  const figures: Figures = {
    ...{ kills: 0, met, files: 0, facts: 0, notices: 0, mails: 0, repeated: 0, faults: [] },
  };
  while (figures.kills < kills) {
    await oneCycle(kills - figures.kills, chance, figures);
    onCycle(figures);
  }
  return figures;
}

/** A workshop from nothing to all that was given to it, killed on the way. */
async function oneCycle(most: number, chance: Chance, figures: Figures): Promise<void> {
  const world = new CrashWorld();
  const relay = await startRelay();
  relay.delay = () => Math.floor(chance.between(0, 12));
  const lives: Taken[] = [];
  const note = (found: readonly string[]): void =>
    void figures.faults.push(...found.map((fault) => `kill ${figures.kills}: ${fault}`));
  try {
    const aims = AIMS.slice(0, most);
    const births = aims.filter((aim) => aim === 'migration').length;
    for (let i = 0; i < births; i += 1) {
      if (await killBirth(world, chance)) figures.met.migration += 1;
      figures.kills += 1;
    }
    // All or nothing: after a kill it is taken whole, or was taken whole already.
    const born = runProgram(['import', world.setupFile, '--data', world.folder, '--now', NOW]);
    if (born.status !== 0) return note([`import: ${born.stderr}`]);
    await world.signIn();
    for (const aim of aims.filter((one) => one !== 'migration')) {
      const before = relay.taken.length;
      if (await oneLife(world, relay, { aim, chance, note })) figures.met[aim] += 1;
      figures.kills += 1;
      await relay.quiet();
      lives.push({ taken: relay.taken.slice(before), isKilled: true });
      note(await world.faults());
    }
    const before = relay.taken.length;
    await lastLife(world, relay, note);
    lives.push({ taken: relay.taken.slice(before), isKilled: false });
    note([...(await world.faults()), ...repeatFaults(lives), ...worldFaults(world, relay)]);
    sumUp(world, relay, figures);
  } finally {
    await relay.close();
    world.close();
  }
}

function sumUp(world: CrashWorld, relay: Relay, figures: Figures): void {
  const ids = new Set(relay.taken.map((one) => one.messageId));
  figures.files += world.laid.length;
  figures.facts += world.rows('select 1 from fact').length;
  figures.notices += world.rows('select 1 from notice').length;
  figures.mails += ids.size;
  figures.repeated += relay.taken.length - ids.size;
}

const start = (world: CrashWorld, relay: Relay): ChildProcess =>
  spawn(process.execPath, [PROGRAM, 'serve', '--json', '--port', '0', '--data', world.folder, '--now', NOW], {
    env: { PATH: process.env.PATH, STANCHION_SMTP_URL: relay.url, STANCHION_SECRET: SECRET },
    stdio: ['ignore', 'pipe', 'ignore'],
  });

const exitOf = (child: ChildProcess): Promise<void> =>
  new Promise((resolve) => child.once('exit', () => resolve()));

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

/** Resolves when it is so, true; or when it ended or takes too long, false. */
async function until(isSo: () => boolean, child: ChildProcess): Promise<boolean> {
  for (const end = performance.now() + PATIENCE_MS; performance.now() < end; await pause(1)) {
    if (isSo()) return true;
    if (child.exitCode !== null) return false;
  }
  return false;
}

/** Kills the very first import, which makes the database; true where it had begun and was not yet done. */
async function killBirth(world: CrashWorld, chance: Chance): Promise<boolean> {
  const args = ['import', world.setupFile, '--data', world.folder, '--now', NOW];
  const child = spawn(process.execPath, [PROGRAM, ...args], {
    env: { PATH: process.env.PATH },
    stdio: 'ignore',
  });
  const exited = exitOf(child);
  const hasBegun = await until(() => world.isMade, child);
  await pause(chance.between(0, 120));
  const isRunning = child.exitCode === null;
  child.kill('SIGKILL');
  await exited;
  return hasBegun && isRunning;
}

interface Aimed {
  readonly aim: Aim;
  readonly chance: Chance;
  readonly note: (faults: readonly string[]) => void;
}

/** One life of the program in which files arrive, facts are said, notices are decided, mails go out and a backup is made. */
async function oneLife(world: CrashWorld, relay: Relay, { aim, chance, note }: Aimed): Promise<boolean> {
  const rests = [world.layFile(chance.next() < 0.3)];
  if (aim === 'files') for (let i = 0; i < 3; i += 1) rests.push(world.layFile(false));
  if (aim === 'backup') world.dropBackup();
  const child = start(world, relay);
  const exited = exitOf(child);
  const url = urlOf(child);
  const said: Promise<void>[] = [];
  const talk = url.then(async (at) => {
    if (at === null) return;
    for (const lay of rests) lay();
    for (const kind of KINDS[aim]) {
      const saying = world.nextSaying(kind);
      if (saying) said.push(world.say(at, saying).then((fault) => note(fault === null ? [] : [fault])));
      if (chance.next() < 0.5) await pause(chance.between(0, 10));
    }
  });
  const isMet = await untilMoment(world, relay, { aim, chance, child, said });
  child.kill('SIGKILL');
  await exited;
  await talk;
  await Promise.all(said);
  for (const lay of rests) lay();
  return isMet;
}

/** What is said in a life: a mark is what mails tell of. */
const KINDS: Readonly<Record<Aim, readonly Saying['kind'][]>> = {
  migration: [],
  files: ['correct'],
  mails: ['mark', 'hours'],
  backup: ['hours', 'correct'],
  facts: ['hours', 'mark', 'correct', 'hours'],
  start: ['hours'],
};

interface Moment {
  readonly aim: Aim;
  readonly chance: Chance;
  readonly child: ChildProcess;
  readonly said: readonly unknown[];
}

/** Waits for the moment; true where what it is aimed at is under way then. */
async function untilMoment(
  world: CrashWorld,
  relay: Relay,
  { aim, chance, child, said }: Moment,
): Promise<boolean> {
  const [kept, connections, taken] = [world.keptFiles.length, relay.connections(), relay.taken.length];
  const after = async (isSo: () => boolean, mostMs: number): Promise<boolean> => {
    const isMet = await until(isSo, child);
    await pause(chance.between(0, mostMs));
    return isMet;
  };
  switch (aim) {
    case 'files':
      return after(() => world.keptFiles.length > kept, 60);
    case 'mails':
      return chance.next() < 0.5
        ? after(() => relay.connections() > connections, 12)
        : after(() => relay.taken.length > taken, 40);
    case 'backup':
      return after(() => world.isBackingUp, 250);
    case 'facts':
      return after(() => said.length > 0, 40);
    default:
      await pause(chance.between(0, START_MS));
      return child.exitCode === null;
  }
}

/** Lets it finish all that was given to it, and ends it as a person would. */
async function lastLife(
  world: CrashWorld,
  relay: Relay,
  note: (faults: readonly string[]) => void,
): Promise<void> {
  const child = start(world, relay);
  const exited = exitOf(child);
  const url = await urlOf(child);
  if (url === null) return note(['it does not start']);
  for (const saying of world.sayings.filter((one) => one.state === 'open')) {
    const fault = await world.say(url, saying);
    if (fault !== null) note([fault]);
  }
  if (!(await until(() => world.isAllDone, child))) note(['it did not come to an end']);
  child.kill('SIGTERM');
  await exited;
  if (child.exitCode !== 0) note([`it ended with ${child.exitCode}`]);
}

/** Resolves with its address once it is ready; null where it ends before. */
function urlOf(child: ChildProcess): Promise<string | null> {
  return new Promise((resolve) => {
    let text = '';
    child.once('exit', () => resolve(null));
    child.stdout!.on('data', (chunk) => {
      text += String(chunk);
      if (text.includes('\n'))
        resolve((JSON.parse(text.slice(0, text.indexOf('\n'))) as { url: string }).url);
    });
  });
}
