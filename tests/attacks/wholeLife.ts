/** The demo as a service through all that it does and all that may fail it: what it logged, and what must not stand there. */
import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  chownSync,
  mkdirSync,
  readdirSync,
  renameSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { basename, dirname, join } from 'node:path';
import SQLite from 'better-sqlite3';
import { onTestFinished } from 'vitest';
import { type Serving, serveIn } from '../faults/serving.js';
import { gpxText, straightTrack, textBytes } from '../fixtures/gpxFile.js';
import { eventually, PROGRAM, scratchFolder } from '../fixtures/program.js';
import { startRelay } from '../fixtures/relay.js';
import { zipFile } from '../fixtures/zipFile.js';

/** Another user, for whom a file may be locked: nothing is for root. */
const OTHER = process.getuid!() === 0 ? { uid: 65_534, gid: 65_534 } : {};
const NOW = '2025-06-18T12:30:00Z';
const NEXT = '2025-07-02T12:30:00Z';
const PASSWORD = 'a password of mine';

/** Nobody else is called so, and no file or place of the demo is. */
const TOLD = {
  stranger: 'wren.at.the.desk@example.org',
  link: 'k'.repeat(60),
  calendar: 'c'.repeat(32),
  why: 'The crown cracked at Lantern Street',
  looked: 'Zacharias Probewell',
  imported: 'Quirin Halbmoor',
  address: 'quirin.halbmoor@example.org',
};
/** What is laid into the drop folder, by what becomes of it. */
const FILES = {
  ride: 'home to Lantern Street.gpx',
  stray: 'Aunt Mathilde/over Bramble Hill.gpx',
  archive: 'holiday at Grandmother Ysolde.zip',
  member: 'to the Harbour.gpx',
  damaged: 'half of a Sunday with Ottilie.gpx',
  link: 'link to Peregrin.gpx',
  locked: 'locked by Hortensia.gpx.gz',
  unkept: 'on the way to Doctor Emmerich.gpx',
};

export interface Life {
  /** A line each, parsed. */
  readonly lines: readonly Readonly<Record<string, unknown>>[];
  readonly log: string;
  /** Every name, mail address, file name, place and text of the workshop. */
  readonly texts: readonly string[];
}

export async function liveOn(data: string): Promise<Life> {
  const give = (path: string): void => {
    if (OTHER.uid !== undefined) spawnSync('chown', ['-R', `${OTHER.uid}:${OTHER.gid}`, path]);
  };
  give(dirname(data));
  const elsewhere = scratchFolder();
  give(elsewhere);
  let commands = '';
  const run = (...args: readonly string[]): string => {
    const ran = spawnSync(process.execPath, [PROGRAM, ...args, '--data', data, '--now', NOW], {
      ...{ encoding: 'utf8', maxBuffer: 64e6, ...OTHER },
      env: { PATH: process.env.PATH, STANCHION_PASSWORD: PASSWORD },
    });
    if (ran.status !== 0) throw new Error(`${args.join(' ')}: ${ran.stderr}`);
    commands += ran.stderr;
    return ran.stdout;
  };
  const texts = textsOf(run('export', '-'));
  const relay = await startRelay((to) => {
    if (to === 'r2@example.org') return { at: 'rcpt', reply: 450 };
    return to === 'r5@example.org' ? { at: 'rcpt', reply: 550 } : 'take';
  });
  onTestFinished(() => relay.close());
  const env = {
    STANCHION_SMTP_URL: relay.url,
    STANCHION_PUBLIC_URL: 'http://bench.example.org',
    STANCHION_TRUSTED_PROXY: '127.0.0.1',
    STANCHION_BACKUP_HOUR: '0',
  };
  const serveAt = (now: string): Promise<Serving> => serveIn(data, env, ['--now', now], OTHER);
  run('account', 'owner', '--password');

  const first = await serveAt(NOW);
  await logs(first, 'a verified backup is kept');
  const cookie = await visit(first);
  layFiles(data, give);
  await logs(first, 'a file was taken', 'an archive was taken', 'a file could not be taken');
  run('mark', 'F-0103', 'stop', '--why', TOLD.why);
  await logs(first, 'a mail was handed over');
  const second = join(elsewhere, 'second.json');
  writeFileSync(second, JSON.stringify(secondDocument()));
  run('import', second);
  run('backup', join(elsewhere, 'copy.db'));
  rmSync(join(data, 'inbox/r6'), { recursive: true });
  run('rider', 'r6', 'forget');
  await breakStore(first, data, cookie);
  renameSync(join(data, 'originals'), join(data, 'was originals'));
  writeFileSync(join(data, 'originals'), '');
  lay(data, `r1/b1/${FILES.unkept}`, rideOn(17), give);
  await logs(first, 'could not be written');
  rmSync(join(data, 'originals'));
  renameSync(join(data, 'was originals'), join(data, 'originals'));
  // The reason is looked for every half minute.
  renameSync(join(data, 'inbox'), join(data, 'was inbox'));
  await logs(first, 'The drop folder is not there');
  renameSync(join(data, 'was inbox'), join(data, 'inbox'));
  await relay.close();
  run('mark', 'F-0101', 'stop', '--why', TOLD.why);
  await logs(first, 'a mail was not handed over');
  await first.stop();

  rmSync(join(data, 'backups'), { recursive: true });
  writeFileSync(join(data, 'backups'), '');
  writeFileSync(join(data, 'sweep-owed'), '');
  give(data);
  const again = await serveAt(NEXT);
  await logs(again, 'what was forgotten is swept out', '"loop":"backup"', 'reminders were decided');
  await again.stop();

  const written = commands.split('\n').filter((line) => line.startsWith('{'));
  const log = [first.log(), again.log(), ...written].join('\n');
  return {
    log,
    lines: log
      .split('\n')
      .filter((line) => line !== '')
      .map((line) => JSON.parse(line) as Readonly<Record<string, unknown>>),
    texts: [...new Set([...texts, ...filesBelow(join(data, 'inbox')), ...madeHere(), PASSWORD])],
  };
}

const logs = async (serving: Serving, ...said: readonly string[]): Promise<void> => {
  for (const one of said)
    await eventually(() => (serving.log().includes(one) ? true : null)).catch((cause: unknown) => {
      throw new Error(`It never logged "${one}", but: ${serving.log()}`, { cause });
    });
};

/** What strangers and the workshop do on the pages. Returns the cookie of the workshop. */
async function visit({ url, get, log }: Serving): Promise<string> {
  const signIn = (name: string, password: string, from: string) =>
    fetch(`${url}/sign-in`, {
      ...{ method: 'POST', redirect: 'manual' },
      headers: { origin: 'http://bench.example.org', 'x-forwarded-for': from },
      body: new URLSearchParams({ name, password }),
    });
  // RFC 5737 and 3849: addresses for documentation.
  await signIn('owner', 'a wrong one', '203.0.113.77');
  await signIn(TOLD.stranger, PASSWORD, '203.0.113.78');
  await signIn(TOLD.stranger, PASSWORD, '2001:db8:1:2::3');
  await eventually(() => (log().split('A sign-in was refused').length === 4 ? true : null));
  for (const path of [
    `/r/stop/${TOLD.link}`,
    `/bookings/${TOLD.calendar}.ics`,
    `/riders/${encodeURIComponent(TOLD.looked)}`,
  ])
    await get(path);
  const { headers } = await signIn('owner', PASSWORD, '203.0.113.79');
  const cookie = headers.getSetCookie()[0]!.split(';')[0]!;
  for (const path of ['/', '/riders/r1', `/find?q=${encodeURIComponent(TOLD.looked)}`, '/units/F-0103'])
    await fetch(url + path, { headers: { cookie } });
  return cookie;
}

/** Every loop and every page meets a store that lacks what it asks for. */
async function breakStore(serving: Serving, data: string, cookie: string): Promise<void> {
  const database = new SQLite(join(data, 'stanchion.db'));
  const tables = ['contact', 'mail', 'inbox_file', 'heartbeat', 'reading'];
  const there = database
    .prepare("select name from sqlite_master where type = 'table'")
    .pluck()
    .all() as string[];
  const broken = tables.filter((name) => there.includes(name));
  try {
    for (const name of broken) database.exec(`alter table "${name}" rename to "${name}_away"`);
    await logs(serving, 'a step failed');
    for (const path of [`/r/stop/${TOLD.link}`, `/find?q=${encodeURIComponent(TOLD.looked)}`, '/riders/r1'])
      await fetch(serving.url + path, { headers: { cookie } });
    await logs(serving, 'A page could not be made');
  } finally {
    for (const name of broken) database.exec(`alter table "${name}_away" rename to "${name}"`);
    database.close();
  }
  await logs(serving, 'goes on again');
}

const rideOn = (day: number): string =>
  gpxText([{ type: 'cycling', segments: [straightTrack(Date.UTC(2025, 5, day, 9), 600)] }]);

function lay(data: string, name: string, content: string | Uint8Array, give: (path: string) => void): void {
  const path = join(data, 'inbox', name);
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, content);
  give(dirname(path));
}

function layFiles(data: string, give: (path: string) => void): void {
  lay(data, `r1/b1/${FILES.ride}`, rideOn(12), give);
  lay(data, FILES.stray, rideOn(13), give);
  const members = [FILES.member, 'b.gpx'].map((name, i) => ({ name, bytes: textBytes(rideOn(14 + i)) }));
  lay(data, `r1/b1/${FILES.archive}`, zipFile(members), give);
  lay(data, `r1/b1/${FILES.damaged}`, `${rideOn(16).slice(0, 900)}</gpx>`, give);
  symlinkSync('/etc/hostname', join(data, 'inbox/r1', FILES.link));
  const locked = join(data, 'inbox/r1', FILES.locked);
  writeFileSync(locked, '');
  // Another's, and for nobody else to read.
  chmodSync(locked, 0);
  if (OTHER.uid !== undefined) chownSync(locked, 0, 0);
}

const secondDocument = () => ({
  riders: [{ id: 'r77', name: TOLD.imported, email: TOLD.address, addressConfirmed: true }],
  bikes: [{ id: 'b77', rider: 'r77', name: 'Bike of the second import', type: 'trail' }],
});

/** Names are looked for as a whole and word by word, files with and without their folders. */
const madeHere = (): string[] => [
  ...Object.values(TOLD),
  ...Object.values(FILES).flatMap((name) => [name, basename(name)]),
  ...[TOLD.looked, TOLD.imported].flatMap((name) => name.split(' ')),
  ...['Lantern', 'Mathilde', 'Bramble', 'Ysolde', 'Ottilie', 'Peregrin', 'Hortensia', 'Emmerich'],
];

const filesBelow = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map(({ name }) => name);

/** Every text of an export but what stands for things: tokens, ids, handles, hashes, times, and the zone. */
function textsOf(exported: string): string[] {
  const texts = new Set<string>();
  const look = (value: unknown, key: string): void => {
    if (typeof value === 'string') {
      const inner = parsed(value);
      if (inner !== null) look(inner, key);
      else if (isText(value) && key !== 'timeZone') for (const line of linesOf(value)) texts.add(line);
    } else if (value !== null && typeof value === 'object')
      for (const [name, below] of Object.entries(value)) look(below, Array.isArray(value) ? key : name);
  };
  look(JSON.parse(exported), '');
  return [...texts];
}

const parsed = (text: string): object | null => {
  if (!/^[{[]/.test(text)) return null;
  try {
    return JSON.parse(text) as object;
  } catch {
    return null;
  }
};

const isText = (value: string): boolean =>
  /[A-Z@ .\u0080-\uffff]/.test(value) && !/^\d{4}-\d\d-\d\dT[\d:.]+Z$|^[A-Z]-\d+$|^[\d.]+$/.test(value);

/** Of a person each word too, of an address each part; of mails each line that is more than a word. */
function linesOf(value: string): string[] {
  const words = /^\p{Lu}\p{L}+ \p{Lu}[\p{L}-]+$/u.test(value) ? value.split(' ') : [];
  const parts = value.includes('\n') ? [] : value.split(', ').filter((part) => part.includes(' '));
  return [...value.split('\n').map((line) => line.trim()), ...words, ...parts].filter(
    (line) => line.length >= 4,
  );
}
