/** Who was forgotten, by ids that say nothing, beside the store: a backup from before that is restored forgets them again. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Forgotten, forgetRider, listRiderFiles } from '../flow/forgetRider.js';
import { type Stanchion, sweepStore } from '../main.js';
import { openPart } from './writePart.js';

const listIn = (dataFolder: string): string => join(dataFolder, 'forgotten.txt');

function readForgotten(dataFolder: string): string[] {
  const path = listIn(dataFolder);
  return existsSync(path)
    ? readFileSync(path, 'utf8')
        .split('\n')
        .filter((line) => line !== '')
    : [];
}

function noteForgotten(dataFolder: string, riderId: string): void {
  const ids = new Set([...readForgotten(dataFolder), riderId]);
  const part = openPart(listIn(dataFolder));
  part.write([...ids].map((id) => `${id}\n`).join(''));
  part.finish();
}

/** Forgets a rider in the store and in the folders, and leaves no trace in what the database has freed. */
export async function forgetAll(stanchion: Stanchion, riderId: string): Promise<Forgotten> {
  const { store, clock, config, leftovers } = stanchion;
  noteForgotten(config.dataFolder, riderId);
  // Files first: once the store has forgotten which they were, nobody could find them after a crash.
  await leftovers.remove(await store.read((tx) => listRiderFiles(tx, riderId)));
  const forgotten = await store.write((tx) => forgetRider(tx, riderId, clock.now()));
  await leftovers.remove(forgotten);
  sweepStore(config);
  return forgotten;
}

/** Forgets again whoever came back with a backup or an export from before. Returns how many did. */
export async function forgetAgain(stanchion: Stanchion): Promise<number> {
  const riderIds = readForgotten(stanchion.config.dataFolder);
  const back = await stanchion.store.read(async (tx) => {
    const found: string[] = [];
    for (const id of riderIds) if (await tx.contacts.find(id)) found.push(id);
    return found;
  });
  for (const riderId of back) await forgetAll(stanchion, riderId);
  return back.length;
}
