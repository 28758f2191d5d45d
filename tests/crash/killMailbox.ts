/** Mails rides to the built program's mailbox, and kills it at random moments while it takes and answers them. */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import SQLite from 'better-sqlite3';
import { simpleParser } from 'mailparser';
import { type Chance, seeded } from '../../samples/seeded.js';
import { findRidesAddress } from '../../src/flow/take/whoseMail.js';
import { sealWith } from '../../src/secret.js';
import { openStore } from '../../src/store/open.js';
import { instant } from '../../src/units.js';
import { gpxText, straightTrack, textBytes } from '../fixtures/gpxFile.js';
import { madeMail } from '../fixtures/madeMail.js';
import { MAIL_PASSWORD, type MailServer, startMailServer } from '../fixtures/mailServer.js';
import { manyForks, numbersTo } from '../fixtures/manyForks.js';
import { PROGRAM, runProgram } from '../fixtures/program.js';
import { type Relay, startRelay, type TakenMail } from '../fixtures/relay.js';

const FIRST_MS = Date.parse('2026-06-10T09:00:00Z');
const DAY_MS = 86_400_000;
/** From one life to the next: what one takes is answered in the next. */
const APART_MS = 7 * 60_000;
const SECRET = 'a secret of the crash tests, long enough';
const ADDRESS = 'rides@bench.example.org';
const RIDERS = 6;
const PATIENCE_MS = 90_000;

const DOCUMENT = manyForks({
  count: RIDERS,
  openDays: ['mon', 'tue', 'wed', 'thu', 'fri'],
  history: () => ({ terrainHours: 0, movingHours: 0, asOf: '2026-01-01' }),
});

export interface MailboxFigures {
  readonly kills: number;
  readonly mails: number;
  readonly rides: number;
  readonly answers: number;
  /** Answers that came again; each after a kill that cut off the relay's own answer. */
  readonly repeated: number;
  readonly faults: readonly string[];
}

class MailedWorld {
  readonly folder = mkdtempSync(join(tmpdir(), 'stanchion-crash-'));
  readonly addresses: string[] = [];
  /** Rides by rider, each mailed at least once. */
  readonly mailed = new Map<number, number>();
  readonly lives: { readonly taken: readonly TakenMail[]; readonly isKilled: boolean }[] = [];
  mails = 0;
  #last: Buffer | null = null;

  constructor(
    readonly server: MailServer,
    readonly relay: Relay,
    readonly chance: Chance,
  ) {}

  async setUp(): Promise<void> {
    const file = join(this.folder, 'setup.json');
    writeFileSync(file, JSON.stringify(DOCUMENT));
    const { status, stderr } = runProgram(['import', file, '--data', this.folder], {}, PATIENCE_MS);
    if (status !== 0) throw new Error(stderr);
    const store = await openStore(join(this.folder, 'stanchion.db'), instant(FIRST_MS));
    const rides = { address: ADDRESS, seal: sealWith(Buffer.from(SECRET)) };
    for (const n of numbersTo(RIDERS))
      this.addresses.push(
        await store.read(async (tx) =>
          findRidesAddress(tx, rides, (await tx.handles.find('rider', `r${n}`))!),
        ),
      );
    await store.close();
  }

  /** Mails a ride that nobody had, now and then with the mail of before once more, or the file in a mail of its own. */
  async put(nowMs: number): Promise<void> {
    const rider = Math.floor(this.chance.between(0, RIDERS));
    const nth = this.mailed.get(rider) ?? 0;
    this.mailed.set(rider, nth + 1);
    const start = FIRST_MS - (nth + 1) * DAY_MS - rider * 3_600_000;
    const bytes = textBytes(
      gpxText([{ type: 'cycling', segments: [straightTrack(start, 300, 20 + rider)] }]),
    );
    const files = [{ name: `ride ${nth}.gpx`, bytes }];
    const to = this.addresses[rider]!;
    this.server.cameAt = new Date(nowMs).toISOString();
    const mail = await madeMail({ to, id: `${this.mails++}@crash.example`, files });
    await this.server.put(mail);
    if (this.chance.next() < 0.2 && this.#last) await this.server.put(this.#last);
    if (this.chance.next() < 0.2)
      await this.server.put(await madeMail({ to, id: `${nowMs}-${this.mails}@again.example`, files }));
    this.#last = mail;
  }

  serve(nowMs: number): { readonly child: ChildProcess; readonly exited: Promise<void> } {
    const url = new URL(`imap://127.0.0.1:${this.server.port}/INBOX`);
    url.username = this.server.user;
    url.password = encodeURIComponent(MAIL_PASSWORD);
    const now = new Date(nowMs).toISOString();
    const child = spawn(
      process.execPath,
      [PROGRAM, 'serve', '--port', '0', '--data', this.folder, '--now', now],
      {
        env: {
          PATH: process.env.PATH,
          STANCHION_SMTP_URL: this.relay.url,
          STANCHION_IMAP_URL: url.href,
          STANCHION_RIDES_ADDRESS: ADDRESS,
          STANCHION_SECRET: SECRET,
        },
        stdio: 'ignore',
      },
    );
    return { child, exited: new Promise((resolve) => child.once('exit', () => resolve())) };
  }

  rows<T>(query: string): T[] {
    const database = new SQLite(join(this.folder, 'stanchion.db'), { readonly: true });
    try {
      return database.prepare(query).all() as T[];
    } finally {
      database.close();
    }
  }

  count = (query: string): number => this.rows<{ n: number }>(query)[0]?.n ?? 0;
}

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

/** Returns figures and faults of so many kills; the same seed chooses the same moments. */
export async function killMailbox(
  kills: number,
  seed: number,
  tell: (soFar: number) => void,
): Promise<MailboxFigures> {
  const chance = seeded(`mailbox ${seed}`);
  const relay = await startRelay();
  const server = await startMailServer();
  const world = new MailedWorld(server, relay, chance);
  try {
    await world.setUp();
    let nowMs = FIRST_MS;
    for (let life = 0; life < kills; life++, nowMs += APART_MS) {
      for (let i = Math.floor(chance.between(1, 4)); i > 0; i--) await world.put(nowMs);
      await lifeOf(world, nowMs, true);
      tell(life + 1);
    }
    // What waits for the next day's hour goes then.
    for (const days of [0, 1, 2]) await lifeOf(world, nowMs + days * DAY_MS, false);
    return await figuresOf(world, kills);
  } finally {
    await server.stop();
    await relay.close();
    rmSync(world.folder, { recursive: true, force: true });
  }
}

async function lifeOf(world: MailedWorld, nowMs: number, isKilled: boolean): Promise<void> {
  const before = world.relay.taken.length;
  const { child, exited } = world.serve(nowMs);
  if (isKilled) await untilItsMoment(world);
  else await untilDone(world, nowMs);
  child.kill(isKilled ? 'SIGKILL' : 'SIGTERM');
  await exited;
  await world.relay.quiet();
  world.lives.push({ taken: world.relay.taken.slice(before), isKilled });
}

/** Somewhere in its start, around a mail that is taken, or around an answer that leaves. */
async function untilItsMoment(world: MailedWorld): Promise<void> {
  const kind = world.chance.next();
  if (kind < 0.15) return pause(world.chance.between(0, 3000));
  const query = 'select count(*) as n from mailed';
  const [mails, done, taken] = [
    world.count(query),
    world.count(`${query} where done_at_ms is not null`),
    world.relay.taken.length,
  ];
  for (let waited = 0; waited < PATIENCE_MS; waited += 2) {
    await pause(2);
    if (kind < 0.45 && world.count(query) > mails) break;
    if (kind < 0.75 && world.count(`${query} where done_at_ms is not null`) > done) break;
    if (world.relay.taken.length > taken) break;
    // Nobody may have mailed what is new, or have an answer open.
    if (waited > 4000) break;
  }
  return pause(world.chance.between(0, 60));
}

async function untilDone(world: MailedWorld, nowMs: number): Promise<void> {
  const last = await world.server.as(async (client) => (await client.mailboxOpen('INBOX')).uidNext - 1);
  for (let waited = 0; waited < PATIENCE_MS; waited += 50) {
    await pause(50);
    const isRead = world.count('select coalesce(max(last_uid), 0) as n from mailbox') >= last;
    const waits = `select count(*) as n from mail where state = 'waiting' and send_at_ms <= ${nowMs}`;
    if (isRead && world.count(waits) === 0) return;
  }
  throw new Error('It did not come to its end.');
}

const NUMBER = /(\d+|One) rides? counts?:/;

async function figuresOf(world: MailedWorld, kills: number): Promise<MailboxFigures> {
  const faults: string[] = [];
  const expected = [...world.mailed.values()].reduce((sum, count) => sum + count, 0);
  const rides = world.count("select count(*) as n from ride where source = 'recorded'");
  if (rides !== expected) faults.push(`${expected} rides were mailed, ${rides} stand there`);
  const open = world.count('select count(*) as n from mailed where done_at_ms is null');
  if (open > 0) faults.push(`${open} mails are not done`);
  const check = runProgram(['check', '--json', '--data', world.folder], {}, PATIENCE_MS);
  if (check.rows[0]?.ok !== true) faults.push(`check: ${check.stdout}${check.stderr}`);
  const told = new Map<string, string>();
  const mayRepeat = new Set<string>();
  let repeated = 0;
  for (const { taken, isKilled } of world.lives) {
    for (const { messageId, raw, to } of taken) {
      const known = told.get(messageId);
      if (known === undefined) told.set(messageId, raw);
      else if (mayRepeat.delete(messageId) && known === raw) repeated++;
      else faults.push(`${to} got ${messageId} again`);
    }
    const last = taken.at(-1);
    if (isKilled && last) mayRepeat.add(last.messageId);
  }
  let counted = 0;
  let answers = 0;
  for (const raw of told.values()) {
    const { subject = '', text = '' } = await simpleParser(raw);
    if (!subject.includes('came in')) continue;
    answers++;
    const number = NUMBER.exec(text)?.[1];
    counted += number === undefined ? 0 : number === 'One' ? 1 : Number(number);
  }
  if (counted !== expected) faults.push(`${expected} rides were mailed, ${counted} were told of`);
  return { kills, mails: world.mails, rides, answers, repeated, faults };
}
