/** However many mails wait, and however large their files are, the program holds no more of them at once. */
import { spawn } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import SQLite from 'better-sqlite3';
import { afterAll, beforeAll, expect, onTestFinished, test } from 'vitest';
import { findRidesAddress } from '../../src/flow/take/whoseMail.js';
import { sealWith } from '../../src/secret.js';
import { openStore } from '../../src/store/open.js';
import { instant } from '../../src/units.js';
import { gpxText, straightTrack, textBytes } from '../fixtures/gpxFile.js';
import { madeMail } from '../fixtures/madeMail.js';
import {
  hasMailServer,
  MAIL_PASSWORD,
  type MailServer,
  NO_MAIL_SERVER,
  startMailServer,
} from '../fixtures/mailServer.js';
import { manyForks } from '../fixtures/manyForks.js';
import { PROGRAM, runProgram, scratchFolder } from '../fixtures/program.js';
import { zipFile } from '../fixtures/zipFile.js';

const ASKED = process.env.STANCHION_MAILS;
const MAILS = ASKED === undefined ? 60 : Number(ASKED);
const FEW = 5;
const LARGE_BYTES = 30_000_000;
const FIRST_MS = Date.parse('2026-06-10T09:00:00Z');
const DAY_MS = 86_400_000;
const SECRET = 'a secret of the mail tests, long enough';
const ADDRESS = 'rides@bench.example.org';
/** Riders of whom none mails more in a day than is taken of one. */
const RIDERS = Math.ceil((MAILS + 2) / 80);

let server: MailServer;
beforeAll(async () => {
  if (hasMailServer) server = await startMailServer();
});
afterAll(async () => server?.stop());

const rideOf = (nth: number): Uint8Array =>
  textBytes(
    gpxText([{ type: 'cycling', segments: [straightTrack(FIRST_MS - (nth + 1) * DAY_MS, 600, nth % 90)] }]),
  );

/** Returns a ledger with the addresses of its riders. */
async function ledger(): Promise<{ readonly folder: string; readonly addresses: readonly string[] }> {
  const folder = scratchFolder();
  const file = join(folder, 'setup.json');
  const history = () => ({ terrainHours: 0, movingHours: 0, asOf: '2020-01-01' });
  const document = manyForks({ count: RIDERS, openDays: ['mon'], history, fittedOn: '2020-01-01' });
  writeFileSync(file, JSON.stringify(document));
  expect(runProgram(['import', file, '--data', folder]).status).toBe(0);
  const store = await openStore(join(folder, 'stanchion.db'), instant(FIRST_MS));
  const rides = { address: ADDRESS, seal: sealWith(Buffer.from(SECRET)) };
  const addresses: string[] = [];
  for (let n = 1; n <= RIDERS; n++)
    addresses.push(
      await store.read(async (tx) => findRidesAddress(tx, rides, (await tx.handles.find('rider', `r${n}`))!)),
    );
  await store.close();
  return { folder, addresses };
}

/** Returns the most memory that the program held until all was taken, and the rides that it has. Units: MB. */
async function taking(folder: string): Promise<{ readonly mb: number; readonly rides: number }> {
  const url = new URL(`imap://127.0.0.1:${server.port}`);
  url.username = server.user;
  url.password = encodeURIComponent(MAIL_PASSWORD);
  const now = new Date(FIRST_MS).toISOString();
  const child = spawn(process.execPath, [PROGRAM, 'serve', '--port', '0', '--data', folder, '--now', now], {
    env: {
      PATH: process.env.PATH,
      STANCHION_IMAP_URL: url.href,
      STANCHION_RIDES_ADDRESS: ADDRESS,
      STANCHION_SECRET: SECRET,
      STANCHION_BACKUPS_KEPT: '0',
    },
    stdio: 'ignore',
  });
  const ended = new Promise((resolve) => child.once('exit', resolve));
  onTestFinished(async () => {
    child.kill();
    await ended;
  });
  const last = await server.as(async (client) => (await client.mailboxOpen('INBOX')).uidNext - 1);
  const database = new SQLite(join(folder, 'stanchion.db'), { readonly: true });
  const count = (query: string): number => (database.prepare(query).get() as { n: number }).n;
  while (count('select coalesce(max(last_uid), 0) as n from mailbox') < last) await setTimeout(200);
  const held = readFileSync(`/proc/${child.pid}/status`, 'utf8');
  const rides = count("select count(*) as n from ride where source = 'recorded'");
  database.close();
  child.kill();
  await ended;
  return { mb: Number(/VmHWM:\s+(\d+)/.exec(held)![1]) / 1000, rides };
}

test.runIf(hasMailServer && process.platform === 'linux')(
  `many mails and large files take as little memory as a few${NO_MAIL_SERVER}`,
  { timeout: 120_000 + MAILS * 2000 },
  async () => {
    const few = await ledger();
    for (let i = 0; i < FEW; i++)
      await server.put(
        await madeMail({ to: few.addresses[0]!, files: [{ name: `${i}.gpx`, bytes: rideOf(i) }] }),
      );
    const little = await taking(few.folder);
    server.anotherUser();
    const many = await ledger();
    for (let i = 0; i < MAILS; i++)
      await server.put(
        await madeMail({ to: many.addresses[i % RIDERS]!, files: [{ name: `${i}.gpx`, bytes: rideOf(i) }] }),
      );
    const photo = { name: 'photo.raw', bytes: randomBytes(LARGE_BYTES) };
    const zip = zipFile([photo, { name: 'last.gpx', bytes: rideOf(MAILS) }]);
    for (const name of ['a.zip', 'b.zip'])
      await server.put(await madeMail({ to: many.addresses[0]!, files: [{ name, bytes: zip }] }));
    const much = await taking(many.folder);
    if (ASKED !== undefined) process.stdout.write(`${JSON.stringify({ little, much })}\n`);
    expect([little.rides, much.rides]).toEqual([FEW, MAILS + 1]);
    // What a file of that size takes while it is unpacked, and no more for all the others.
    expect(much.mb - little.mb).toBeLessThan(200);
  },
);
