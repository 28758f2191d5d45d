/**
 * Prints what Today, Due, a unit's page and the lists cost against the queries that they need, on 10 000 units and 1 000 000 rides.
 * A page's queries are those that it asked the database, asked again without the page.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import SQLite from 'better-sqlite3';
import { LinkMaker } from '../../../src/flow/links.js';
import { calendarFeed } from '../../../src/mail/calendar.js';
import type { Store } from '../../../src/ports.js';
import { sealWith } from '../../../src/secret.js';
import { openStore } from '../../../src/store/open.js';
import { instant } from '../../../src/units.js';
import { createApp } from '../../../src/web/app.js';
import { openSession } from '../../../src/web/session.js';
import { filePorts } from '../../fixtures/filePorts.js';
import { textTable } from '../evidence/textTable.js';
import { fill } from './fill.js';

const NOW = instant(Date.parse('2026-06-10T09:00:00Z'));
const SECRET = Buffer.alloc(32, 7);
const RUNS = 9;
/** These take no more than so many times as long as their queries; the others are told beside them. */
const MOST = 3;
const HELD = new Set(['Today', 'Due', 'Due, page 100', 'a unit', 'the unit ridden most']);
const SLOW_MS = 10;

interface Asked {
  readonly sql: string;
  readonly values: readonly unknown[];
}
let asked: Asked[] | null = null;

/** The driver's own door: whatever is asked through it is written down while a page is made. */
function listen(): void {
  const { prepare } = SQLite.prototype;
  SQLite.prototype.prepare = function (this: SQLite.Database, sql: string) {
    const statement = prepare.call(this, sql);
    const all = statement.all.bind(statement) as (...values: unknown[]) => unknown[];
    statement.all = (...values: unknown[]) => {
      asked?.push({ sql, values: values.flat() });
      return all(...values);
    };
    return statement;
  } as typeof prepare;
}

const median = (times: readonly number[]): number => [...times].sort((a, b) => a - b)[times.length >> 1]!;

async function timed(work: () => unknown): Promise<number> {
  const times: number[] = [];
  for (let run = 0; run < RUNS; run += 1) {
    const start = performance.now();
    await work();
    times.push(performance.now() - start);
  }
  return median(times);
}

/** The address of the page of the rider who rode most, as a mail would give it. */
const ownPageOf = (store: Store): Promise<string> =>
  store.read(async (tx) => {
    const contact = await tx.contacts.find((await tx.handles.find('rider', 'r-most'))!);
    const links = { publicUrl: '', seal: sealWith(SECRET), isOneClick: false };
    return new LinkMaker(links, tx.workshopId, contact!, NOW).own('page');
  });

const units = Number(process.argv[2] ?? 10_000);
const ridesABike = Number(process.argv[3] ?? 100);
const folder = mkdtempSync(join(tmpdir(), 'stanchion-pages-'));
const path = join(folder, 'stanchion.db');
try {
  const start = performance.now();
  await fill(path, NOW, { units, ridesABike });
  process.stdout.write(`Filled in ${((performance.now() - start) / 1000).toFixed(0)} s.\n`);
  const plain = new SQLite(path, { readonly: true });
  const count = (table: string): number =>
    plain.prepare(`select count(*) from ${table}`).pluck().get() as number;
  for (const table of ['fact', 'standing', 'ride', 'contact'])
    process.stdout.write(`${table}: ${count(table)} rows\n`);
  listen();
  const store = await openStore(path, NOW);
  const token = await store.write(async (tx) => {
    const { id } = await tx.accounts.add({ name: 'owner', passwordHash: '', role: 'owner' });
    return openSession(tx, id, NOW);
  });
  const log = {
    info: () => undefined,
    error: (what: unknown) => process.stderr.write(`${JSON.stringify(what)}\n`),
  };
  const app = createApp({
    ...{ store, log, publicUrl: null, secret: SECRET, restDays: 3 },
    clock: { now: () => NOW },
    ids: { uuid: () => crypto.randomUUID() },
    rider: { ids: { uuid: () => 'x' }, seal: sealWith(SECRET), feed: calendarFeed, ...filePorts() },
  });
  const get = async (address: string): Promise<string> => {
    const response = await app.request(`http://localhost${address}`, {
      headers: { cookie: `session=${token}` },
    });
    if (response.status !== 200) throw new Error(`${address} was answered with ${response.status}`);
    return response.text();
  };
  const pages = {
    Today: '/',
    Due: '/due',
    'Due, page 100': '/due?page=100',
    'a unit': `/units/F-${Math.floor(units * 0.4321)}`,
    'the unit ridden most': '/units/F-most',
    Bench: '/bench',
    'a fleet': '/fleets/t1',
    Units: '/units',
    Riders: '/riders',
    Mails: '/mails',
    'a rider’s own page': await ownPageOf(store),
  };
  const rows = [['page', 'queries', 'rows', 'queries ms', 'page ms', 'ratio', 'KB']];
  let isWell = true;
  for (const [name, address] of Object.entries(pages)) {
    asked = [];
    const text = await get(address);
    const queries: readonly Asked[] = asked;
    asked = null;
    // The program too prepares each query afresh.
    const askOne = ({ sql, values }: Asked): number => plain.prepare(sql).all(...values).length;
    const ask = (): number => queries.reduce((sum, one) => sum + askOne(one), 0);
    const read = ask();
    const queriesMs = await timed(ask);
    const pageMs = await timed(() => get(address));
    const ratio = pageMs / queriesMs;
    isWell &&= ratio <= MOST || !HELD.has(name);
    rows.push([
      name,
      ...[queries.length, read, queriesMs.toFixed(1), pageMs.toFixed(1), ratio.toFixed(2)].map(String),
      (Buffer.byteLength(text) / 1000).toFixed(1),
    ]);
    for (const one of queries) {
      const ms = await timed(() => askOne(one));
      const told = one.sql.replaceAll(/["\s]+/g, ' ').slice(0, 130);
      if (ms >= SLOW_MS)
        process.stdout.write(`  ${name}: ${ms.toFixed(1)} ms, ${askOne(one)} rows:${told}\n`);
    }
  }
  process.stdout.write(`\n${textTable(rows)}\n`);
  plain.close();
  await store.close();
  if (!isWell) process.exitCode = 1;
} finally {
  rmSync(folder, { recursive: true });
}
