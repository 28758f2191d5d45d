/** What taking rides costs beside the statements of the least store that is right. */
import { copyFileSync, mkdtempSync } from 'node:fs';
import { join } from 'node:path';
import type { ReadFile } from '../../../src/flow/take/ingestFile.js';
import { openStore } from '../../../src/store/open.js';
import { DAY_MS } from '../../../src/units.js';
import { bareMs, type StoredRows, storedRows } from './bareStore.js';
import type { Figure } from './figure.js';
import { fill } from './fill.js';
import { NOW } from './ledgers.js';
import { readRide, store as storeRides, takeDeps } from './rides.js';
import { median, processorOf } from './timing.js';

const RUNS = 9;
const AIM = 2;
/** Transactions before the one that is measured: a program that has run a while has asked all its statements. */
const WARM_UPS = 8;
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
    for (let run = -2; run < runs; run += 1) {
      const both = await takeTwice(seed, rides, run);
      if (run < 0) continue;
      ours.push(both.oursMs);
      bare.push(both.bareMs);
    }
    figures.push({
      what: rides === 1 ? 'store a ride' : `store ${rides} rides at once`,
      ours: median(ours),
      against: 'bare statements',
      other: median(bare),
      unit: 'ms',
      aim: AIM,
    });
  }
  return figures;
}

/** Takes rides into a copy of the ledger, and puts the same rows into another copy. */
async function takeTwice(seed: string, rides: number, run: number) {
  const [ours, other] = ['ours', 'bare'].map((name) => `${seed}.${name}.${rides}.${run}`) as [string, string];
  for (const path of [ours, other]) copyFileSync(seed, path);
  const opened = await openStore(ours, NOW);
  await (await openStore(other, NOW)).close();
  const deps = takeDeps(opened, NOW);
  const bikeId = await opened.read(async (tx) => (await tx.handles.find('bike', 'b-p1'))!);
  let day = 3;
  const some = async (count: number): Promise<ReadFile[]> => {
    const files: ReadFile[] = [];
    for (let i = 0; i < count; i += 1) files.push(await readRide(deps, bikeId, NOW - day++ * DAY_MS));
    return files;
  };
  const stored: StoredRows[] = [];
  const store = async (files: readonly ReadFile[]): Promise<number> => {
    const ms = await processorOf(() => storeRides(deps, files));
    stored.push(
      storedRows(
        ours,
        files.map(({ sha256 }) => sha256),
      ),
    );
    return ms;
  };
  for (let i = 0; i < WARM_UPS; i += 1) await store(await some(rides === 1 ? 1 : 4));
  const oursMs = await store(await some(rides));
  await opened.close();
  return { oursMs, bareMs: await bareMs(other, stored.slice(0, -1), stored.at(-1)!) };
}
