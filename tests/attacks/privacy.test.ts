/** What the database, the logs and the folders tell of people, after the demo's whole season. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import SQLite from 'better-sqlite3';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openFile } from '../../src/files/archives/openFile.js';
import { readContent } from '../../src/files/readFile.js';
import { PROGRAM, scratchFolder } from '../fixtures/program.js';
import { liveOn } from './wholeLife.js';

const AT = '2025-06-18T12:00:00Z';
let data = '';

beforeAll(() => {
  data = join(mkdtempSync(join(tmpdir(), 'stanchion-privacy-')), 'demo');
  const { status, stderr } = spawnSync(
    process.execPath,
    [PROGRAM, 'demo', '--once', '--data', data, '--now', AT],
    { encoding: 'utf8', env: { PATH: process.env.PATH } },
  );
  if (status !== 0) throw new Error(stderr);
}, 180_000);
afterAll(() => rmSync(join(data, '..'), { recursive: true }));

interface Person {
  readonly name: string;
  readonly email: string | null;
  readonly phone: string | null;
}

const opened = <T>(work: (database: SQLite.Database) => T): T => {
  const database = new SQLite(join(data, 'stanchion.db'), { readonly: true });
  try {
    return work(database);
  } finally {
    database.close();
  }
};

const people = (): Person[] =>
  opened((database) => database.prepare('select name, email, phone from contact').all() as Person[]);

/** Positions of the kept files, some of each. Units: degrees. */
async function positions(): Promise<number[]> {
  const found: number[] = [];
  for (const name of readdirSync(join(data, 'originals'), { recursive: true, encoding: 'utf8' })) {
    const path = join(data, 'originals', name);
    if (!statSync(path).isFile()) continue;
    for await (const member of openFile(path, name)) {
      const content = 'bytes' in member ? readContent(member.bytes, name) : { recordings: [] };
      for (const { samples } of 'recordings' in content ? content.recordings : [])
        for (let i = 0; i < samples.count; i += 31) found.push(samples.lat[i]!, samples.lon[i]!);
    }
  }
  return found.filter((degrees) => !Number.isNaN(degrees));
}

/** Five decimals are about a metre. */
const cut = (text: string): string => /^-?\d+\.\d{5}/.exec(text)?.[0] ?? text;

/** Those of the positions that the bytes hold: as a text, as the whole number that FIT writes, or as a double. */
function heldIn(bytes: Buffer, degrees: readonly number[]): number[] {
  const texts = new Map<string, number>();
  for (const one of degrees) {
    texts.set(cut(one.toFixed(7)), one);
    texts.set(String(Math.round((one * 2 ** 31) / 180)), one);
  }
  const found = new Set<number>();
  for (const [number] of bytes.toString('latin1').matchAll(/-?\d+(\.\d{5,}|\d{5,})/g)) {
    const held = texts.get(cut(number));
    if (held !== undefined) found.add(held);
  }
  const doubles = new Set(degrees);
  for (let at = 0; at + 8 <= bytes.length; at += 1)
    for (const value of [bytes.readDoubleLE(at), bytes.readDoubleBE(at)])
      if (doubles.has(value)) found.add(value);
  return [...found];
}

/** Each of the forms that are looked for. */
function formsOf(degrees: number): Buffer[] {
  const double = Buffer.alloc(8);
  double.writeDoubleLE(degrees);
  const whole = String(Math.round((degrees * 2 ** 31) / 180));
  return [
    Buffer.from(`,${degrees.toFixed(7)},`),
    Buffer.from(`[${whole}]`),
    double,
    Buffer.from(double).reverse(),
  ];
}

describe('the database', () => {
  it('holds no position of any ride, in whatever form', async () => {
    const all = await positions();
    expect(all.length).toBeGreaterThan(5000);
    const some = [...new Set(all)].filter((degrees) => Math.abs(degrees) > 1);
    expect(some.length).toBeGreaterThan(5000);
    const bytes = Buffer.concat(
      ['stanchion.db', 'stanchion.db-wal'].flatMap((name) => {
        try {
          return [readFileSync(join(data, name))];
        } catch {
          return [];
        }
      }),
    );
    expect(bytes.length).toBeGreaterThan(1_000_000);
    expect(heldIn(bytes, some)).toEqual([]);
    // The search finds what is there: each form of a position that is put in.
    for (const form of formsOf(some[0]!)) {
      const planted = Buffer.concat([bytes.subarray(0, 1000), form, bytes.subarray(1000, 2000)]);
      // Of positions within a metre of each other any may be named.
      expect(heldIn(planted, some).map((held) => cut(held.toFixed(7)))).toEqual([cut(some[0]!.toFixed(7))]);
    }
  }, 120_000);

  it('names people in the table of contacts and in mails as they were written, and nowhere else', () => {
    const everybody = people();
    expect(everybody.length).toBeGreaterThan(5);
    const texts = everybody
      .flatMap(({ name, email, phone }) => [name, email, phone])
      .filter((one): one is string => one !== null && one !== '');
    const found = opened((database) => {
      const tables = database
        .prepare("select name from sqlite_master where type = 'table'")
        .pluck()
        .all() as string[];
      return tables.flatMap((table) => {
        const columns = (database.pragma(`table_info(${table})`) as { name: string }[]).map(
          (one) => one.name,
        );
        return columns.flatMap((column) => {
          const values = database.prepare(`select ${column} from ${table}`).pluck().all();
          const holds = values.some(
            (value) => typeof value === 'string' && texts.some((text) => value.includes(text)),
          );
          return holds ? [`${table}.${column}`] : [];
        });
      });
    });
    expect(found.sort()).toEqual(['contact.email', 'contact.name', 'contact.phone', 'mail.written']);
  });
});

/** Each is of a step of its life, so that none was left out. */
const SAID = [
  ...['Stanchion', 'the pages are ready', 'a file was taken', 'an archive was taken'],
  ...['a file could not be taken and is tried again', 'A sign-in was refused', 'A page could not be made'],
  ...['a mail was handed over', 'a mail was not handed over', 'a verified backup is kept'],
  ...['a step failed and is tried again', 'goes on again', 'reminders were decided'],
  ...['The drop folder is not there.', 'what was forgotten is swept out of the store'],
];

describe('the log', () => {
  it('carries no name, address, link, place or password, whatever fails', async () => {
    const { log, lines, texts } = await liveOn(data);
    for (const one of SAID)
      expect([one, lines.some(({ msg }) => String(msg).startsWith(one))]).toEqual([one, true]);
    const codes = new Set(lines.flatMap(({ error }) => codesOf(error)));
    for (const code of ['disk-failed', 'EACCES', 'ENOTDIR', 'SQLITE_ERROR']) expect(codes).toContain(code);
    for (const { time } of lines) expect(time).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/);

    const found = (text: string): string[] => texts.filter((one) => text.includes(one));
    expect(texts.length).toBeGreaterThan(700);
    for (const one of [
      'Brindlemoth Suspension Bench',
      'Pia Lanternby',
      'Lanternby',
      'r1@example.org',
      'Invented Town',
    ])
      expect(found(`{"why":"It is said of ${one}."}`)).not.toEqual([]);
    expect(found(log)).toEqual([]);
    expect(log).not.toMatch(/[\w.+-]+@[\w-]+\.[\w.]+/);
    expect(log).not.toMatch(/-?\d{1,3}\.\d{5}/);

    // A refused sign-in says the network alone, and the same of an account that there is and of one that there is not.
    const refused = lines.filter(({ msg }) => msg === 'A sign-in was refused');
    const told = refused.map(({ time: _time, ...rest }) => rest);
    expect(told.map(({ from }) => from)).toEqual(['203.0.113.0/24', '203.0.113.0/24', '2001:db8:1::/48']);
    expect(told[0]).toEqual(told[1]);
    const shown = log.match(/\b(?:203|198|192)\.\d+\.\d+\.\d+(?!\/24|\d)/g);
    expect(shown).toBeNull();
  }, 300_000);
});

interface LoggedError {
  readonly code?: string;
  readonly cause?: LoggedError;
}
const codesOf = (error: unknown): string[] => {
  const { code, cause } = (error ?? {}) as LoggedError;
  return [...(code === undefined ? [] : [code]), ...(cause === undefined ? [] : codesOf(cause))];
};

it('what only the owner may read is readable by nobody else', () => {
  const modeOf = (name: string): number => statSync(join(data, name)).mode & 0o077;
  const mails = readdirSync(join(data, 'outbox')).filter((name) => name.endsWith('.eml'));
  expect(mails.length).toBeGreaterThan(2);
  for (const name of mails) expect([name, modeOf(`outbox/${name}`)]).toEqual([name, 0]);
  const folder = scratchFolder();
  writeFileSync(join(folder, 'open'), '');
  expect(statSync(join(folder, 'open')).mode & 0o044).not.toBe(0);
});
