/** A workshop at work while everything that did it harm is tried at once. All of it is invented. */
import { mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import SQLite from 'better-sqlite3';
import { openStore } from '../../src/store/open.js';
import { instant } from '../../src/units.js';
import { formTokenOf, openSession } from '../../src/web/signIn/session.js';
import { gpxText, straightTrack } from '../fixtures/gpxFile.js';
import { manyForks } from '../fixtures/manyForks.js';
import { zipFile } from '../fixtures/zipFile.js';
import { slowFit } from './slowFit.js';

export const SECRET = 'a secret of the soak, long enough for it';
const DAY_MS = 86_400_000;
export const RIDERS = 6;
/** The relay never ends its answer about this one, whose fork is due. */
const STUCK = 'r5@example.org';

const WEEK = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'];

/** What a fork that is not due had been ridden. Units: seconds. */
export const BEFORE_S = 3600;

/** Two forks are due, so that there is something to mail. */
export const document = () =>
  manyForks({
    count: RIDERS,
    openDays: WEEK,
    digestHour: 0,
    fittedOn: '2020-01-01',
    history: (n) => {
      const hours = n === 5 || n === 6 ? 55 : BEFORE_S / 3600;
      const asOf = new Date(Date.now() - 100 * DAY_MS).toISOString().slice(0, 10);
      return { terrainHours: hours, movingHours: hours, asOf };
    },
  });

export interface SoakRelay {
  readonly url: string;
  /** To whom a mail was taken, and when. */
  readonly taken: { readonly to: string; readonly at: number; readonly messageId: string }[];
  /** How often it began an answer that never ends. */
  countStuck(): number;
  close(): void;
}

/** A relay that takes mails, but goes on answering for ever about one of the riders. Source: RFC 5321 4.2.1. */
export async function startSoakRelay(): Promise<SoakRelay> {
  const taken: SoakRelay['taken'] = [];
  let stuck = 0;
  const server = createServer((socket) => {
    let [buffer, to, body] = ['', '', null as string[] | null];
    const say = (line: string): void => void (socket.destroyed || socket.write(`${line}\r\n`));
    const bodyLine = (lines: string[], line: string): void => {
      if (line !== '.') lines.push(line);
      else {
        const messageId = /^message-id: *(<[^>]+>)/im.exec(lines.join('\n'))?.[1] ?? '';
        taken.push({ to, at: performance.now(), messageId });
        body = null;
        say('250 taken');
      }
    };
    const recipient = (line: string): void => {
      to = /<([^>]*)>/.exec(line)?.[1] ?? '';
      if (to !== STUCK) say('250 fine');
      else {
        stuck += 1;
        const more = setInterval(() => say('250-X'), 1000);
        socket.once('close', () => clearInterval(more));
      }
    };
    const command = (line: string): void => {
      const verb = line.slice(0, 4).toUpperCase();
      if (verb === 'RCPT') recipient(line);
      else if (verb === 'DATA') {
        body = [];
        say('354 go on');
      } else if (verb === 'QUIT') socket.end('221 bye\r\n');
      else say('250 fine');
    };
    const read = (line: string): void => (body === null ? command(line) : bodyLine(body, line));
    socket.on('error', () => undefined);
    socket.on('data', (bytes) => {
      buffer += bytes.toString('latin1');
      for (let end = buffer.indexOf('\r\n'); end >= 0; end = buffer.indexOf('\r\n')) {
        const line = buffer.slice(0, end);
        buffer = buffer.slice(end + 2);
        read(line);
      }
    });
    say('220 relay.example.org ready');
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const url = `smtp://127.0.0.1:${(server.address() as AddressInfo).port}`;
  return { url, taken, countStuck: () => stuck, close: () => void server.close() };
}

/** What a signed-in browser sends. */
export interface Form {
  readonly cookie: string;
  readonly token: string;
}

/** An original whose file was handed over a month ago: it must not go when the clock says that years have passed. */
const OLD = 'ab'.repeat(32);
export const oldOriginal = (data: string): string => join(data, 'originals', OLD.slice(0, 2), OLD);

/** Makes somebody who is signed in, and what was there before; to be done while nobody serves. */
export async function prepare(data: string): Promise<Form> {
  const path = join(data, 'stanchion.db');
  const now = instant(Date.now());
  const store = await openStore(path, now);
  const session = await store.write(async (tx) => {
    const account = await tx.accounts.add({ name: 'owner', passwordHash: 'none', role: 'owner' });
    await tx.clockWord.put({ lastAt: instant(now - DAY_MS / 2), doubt: null });
    const none = { riderId: null, bikeId: null, rule: null };
    const file = await tx.files.add({
      ...{ sha256: OLD, bytes: 11, riderId: null, outcome: 'no-ride', code: null, reason: null },
    });
    const at = instant(now - 30 * DAY_MS);
    await tx.files.addArrival({ ...none, fileId: file.id, name: 'old.fit', at, way: null, afterFact: 0 });
    return openSession(tx, account.id, now);
  });
  await store.close();
  mkdirSync(join(data, 'originals', OLD.slice(0, 2)), { recursive: true });
  writeFileSync(oldOriginal(data), 'an old ride');
  return { cookie: `session=${session}`, token: formTokenOf(Buffer.from(SECRET), session) };
}

const lay = (data: string, rider: string, name: string, bytes: Uint8Array | string): void => {
  const folder = join(data, 'inbox', rider, `b${rider.slice(1)}`);
  mkdirSync(folder, { recursive: true });
  const part = join(folder, `${name}.part`);
  writeFileSync(part, bytes);
  renameSync(part, join(folder, name));
};

/** How long a ride is. Units: seconds. */
export const rideS = (n: number): number => 300 + (n % 100) * 17;

/**
 * Some minutes of riding; each number is another ride at another place, so that none is taken for a copy under another
 * clock.
 */
export const rideText = (n: number): string => {
  const start = Date.now() - DAY_MS - n * 4_973_000;
  return gpxText([{ type: 'cycling', segments: [straightTrack(start, rideS(n) + 1, 20 + (n % 1000) / 10)] }]);
};

export const layRide = (data: string, n: number): void => lay(data, 'r1', `ride ${n}.gpx`, rideText(n));

/** What was said of each file of one rider, or of all. */
export function filesOf(
  data: string,
  rider = '%',
): { readonly path: string; readonly outcome: string | null; readonly settled: number }[] {
  const store = new SQLite(join(data, 'stanchion.db'), { readonly: true });
  try {
    return store
      .prepare('select path, outcome, settled, code, reason from inbox_file where path like ?')
      .all(`${rider}/%`) as { path: string; outcome: string | null; settled: number }[];
  } finally {
    store.close();
  }
}

/** Lays down what is slow, broken or too much; what is in the folders of others must not wait for it. */
export function layTrouble(data: string): void {
  const start = Date.now() - 20 * DAY_MS;
  const slow = Array.from({ length: 24 }, (_, i) => ({
    name: `slow ${i}.fit`,
    bytes: slowFit(start - i * 1000, 150_000),
  }));
  lay(data, 'r2', 'slow.zip', zipFile(slow));
  const cut = gzipSync(Buffer.alloc(60_000_000)).subarray(0, -9);
  for (let i = 0; i < 8; i += 1) lay(data, 'r4', `cut ${i}.gz`, cut);
  const large = Array.from({ length: 4 }, (_, i) => slowFit(start - i * 1000, 550_000));
  for (const [i, bytes] of large.entries()) lay(data, 'r4', `large ${i}.fit`, bytes);
}

/** Replaces a file every 50 ms until it is told to stop. */
export function startReplacing(data: string): () => void {
  let n = 0;
  const timer = setInterval(() => lay(data, 'r3', 'live.gpx', rideText(10_000 + n++)), 50);
  return () => clearInterval(timer);
}

/** Units: megabytes. */
export const residentMb = (pid: number): number => {
  const status = readFileSync(`/proc/${pid}/status`, 'utf8');
  return Number(/^VmRSS:\s+(\d+)/m.exec(status)?.[1] ?? 0) / 1024;
};
