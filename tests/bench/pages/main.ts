/**
 * Prints what Today, Due and a unit's page cost against the queries that they need, on 10 000 units and 1 000 000 rides.
 * A page's queries are those that it asked the database, asked again without the page.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import SQLite from 'better-sqlite3';
import { openStore } from '../../../src/store/open.js';
import { instant } from '../../../src/units.js';
import { createApp } from '../../../src/web/app.js';
import { openSession } from '../../../src/web/session.js';
import { textTable } from '../evidence/textTable.js';
import { fill } from './fill.js';

const NOW = instant(Date.parse('2026-06-10T09:00:00Z'));
const RUNS = 15;
const MOST = 3;
const PAGES = { Today: '/', Due: '/due', 'Due, page 100': '/due?page=100', 'a unit': '/units/F-4321' };

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
    ...{ store, log, publicUrl: null, secret: Buffer.alloc(32, 7) },
    clock: { now: () => NOW },
    ids: { uuid: () => crypto.randomUUID() },
  });
  const get = async (address: string): Promise<string> => {
    const response = await app.request(`http://localhost${address}`, {
      headers: { cookie: `session=${token}` },
    });
    if (response.status !== 200) throw new Error(`${address} was answered with ${response.status}`);
    return response.text();
  };
  const rows = [['page', 'queries', 'rows', 'queries ms', 'page ms', 'ratio', 'KB']];
  let isWell = true;
  for (const [name, address] of Object.entries(PAGES)) {
    asked = [];
    const text = await get(address);
    const queries: readonly Asked[] = asked;
    asked = null;
    const statements = queries.map(({ sql, values }) => ({ sql, values, statement: plain.prepare(sql) }));
    const ask = (): number => statements.reduce((sum, of) => sum + of.statement.all(...of.values).length, 0);
    const read = ask();
    const queriesMs = await timed(ask);
    const pageMs = await timed(() => get(address));
    const ratio = pageMs / queriesMs;
    isWell &&= ratio <= MOST;
    rows.push([
      name,
      ...[queries.length, read, queriesMs.toFixed(1), pageMs.toFixed(1), ratio.toFixed(2)].map(String),
      (Buffer.byteLength(text) / 1000).toFixed(1),
    ]);
    for (const { sql, values, statement } of statements) {
      const found = statement.all(...values).length;
      process.stdout.write(`  ${name}: ${found} rows: ${sql.replaceAll('"', '').slice(0, 150)}\n`);
    }
  }
  process.stdout.write(`\n${textTable(rows)}\n`);
  plain.close();
  await store.close();
  if (!isWell) process.exitCode = 1;
} finally {
  rmSync(folder, { recursive: true });
}
