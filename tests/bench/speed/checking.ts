/** What `check` takes for rides beside reading their rows once. */
import { mkdtempSync } from 'node:fs';
import { join } from 'node:path';
import SQLite from 'better-sqlite3';
import { rideDifferences } from '../../../src/flow/rides/checkRides.js';
import { openStore } from '../../../src/store/open.js';
import type { Figure } from './figure.js';
import { fill } from './fill.js';
import { NOW } from './ledgers.js';
import { inTurns } from './timing.js';

const RUNS = 5;
const AIM = 3;
const SIZE = { units: 64, ridesABike: 40 };
const RIDE_ROWS = ['file', 'arrival', 'reading', 'reading_mark', 'reading_sensor', 'ride', 'ride_reading'];

/** Returns the figure; profiles, which no check needs, are left out of the rows. */
export async function checkFigures(folder: string, { runs = RUNS, size = SIZE } = {}): Promise<Figure[]> {
  const path = join(mkdtempSync(join(folder, 'check-')), 'stanchion.db');
  await fill(path, NOW, size);
  const store = await openStore(path, NOW);
  const check = async (): Promise<void> => {
    const found = await store.read((tx) => rideDifferences(tx, async () => undefined));
    if (found.length > 0) throw new Error(found.join());
  };
  const [ours, other] = await inTurns(runs, check, () => readRows(path));
  await store.close();
  return [{ what: 'check rides', ours, against: 'reading their rows', other, unit: 'ms', aim: AIM }];
}

function readRows(path: string): void {
  const database = new SQLite(path, { readonly: true });
  for (const table of RIDE_ROWS) {
    const columns = (database.pragma(`table_info(${table})`) as { name: string }[])
      .map(({ name }) => name)
      .filter((name) => table !== 'reading' || name !== 'profile');
    database.prepare(`select ${columns.join()} from ${table}`).all();
  }
  database.close();
}
