/** What taking rides costs beside the statements that it asks of the database, prepared beforehand and asked alone. */
import { copyFileSync, mkdtempSync } from 'node:fs';
import { join } from 'node:path';
import SQLite from 'better-sqlite3';
import type { ReadFile } from '../../../src/flow/take/ingestFile.js';
import { openStore } from '../../../src/store/open.js';
import { DAY_MS } from '../../../src/units.js';
import { type Asked, statementsAskedBy } from './askedStatements.js';
import type { Figure } from './figure.js';
import { fill } from './fill.js';
import { NOW } from './ledgers.js';
import { readRide, store as storeRides, takeDeps } from './rides.js';
import { median, processorOf } from './timing.js';

const RUNS = 9;
const WARM_UPS = 2;
const UNITS = 8;
const RIDES_A_BIKE = 20;

/** Returns the figures of one ride in a transaction, and of many. */
export async function storingFigures(folder: string, runs = RUNS): Promise<Figure[]> {
  const seed = join(mkdtempSync(join(folder, 'storing-')), 'stanchion.db');
  await fill(seed, NOW, { units: UNITS, ridesABike: RIDES_A_BIKE });
  const figures: Figure[] = [];
  for (const rides of [1, 32]) {
    const ours: number[] = [];
    const bare: number[] = [];
    for (let run = 0; run < runs + WARM_UPS; run += 1) {
      const both = await takeTwice(seed, rides, run);
      if (run < WARM_UPS) continue;
      ours.push(both.oursMs);
      bare.push(both.bareMs);
    }
    figures.push({
      what: rides === 1 ? 'store a ride' : `store ${rides} rides at once`,
      ours: median(ours),
      against: 'its statements, prepared',
      other: median(bare),
      unit: 'ms',
    });
  }
  return figures;
}

/** Takes rides into a copy of the ledger, and asks the same statements of another copy. */
async function takeTwice(seed: string, rides: number, run: number) {
  const [ours, other] = ['ours', 'bare'].map((name) => `${seed}.${name}.${rides}.${run}`) as [string, string];
  for (const path of [ours, other]) copyFileSync(seed, path);
  const opened = await openStore(ours, NOW);
  const deps = takeDeps(opened, NOW);
  const bikeId = await opened.read(async (tx) => (await tx.handles.find('bike', 'b-p1'))!);
  const some = async (count: number, from: number): Promise<ReadFile[]> => {
    const files: ReadFile[] = [];
    for (let i = 0; i < count; i += 1) files.push(await readRide(deps, bikeId, NOW - (from + i) * DAY_MS));
    return files;
  };
  // A program that has run a while has asked all its statements before.
  const before = await statementsAskedBy(async () => {
    for (const file of await some(WARM_UPS, 3)) await storeRides(deps, [file]);
  });
  const files = await some(rides, 3 + WARM_UPS);
  let oursMs = 0;
  const asked = await statementsAskedBy(async () => {
    oursMs = await processorOf(() => storeRides(deps, files));
  });
  await opened.close();
  return { oursMs, bareMs: await bareMs(other, before, asked) };
}

async function bareMs(path: string, before: readonly Asked[], asked: readonly Asked[]): Promise<number> {
  const database = new SQLite(path);
  for (const setting of ['journal_mode = WAL', 'synchronous = FULL', 'foreign_keys = ON'])
    database.pragma(setting);
  const statements = new Map<string, SQLite.Statement>();
  for (const { sql } of [...before, ...asked])
    if (!statements.has(sql)) statements.set(sql, database.prepare(sql));
  const ask = (all: readonly Asked[]): void => {
    for (const { sql, values } of all) {
      const statement = statements.get(sql)!;
      if (statement.reader) statement.all(...values);
      else statement.run(...values);
    }
  };
  ask(before);
  const ms = await processorOf(() => ask(asked));
  database.close();
  return ms;
}
