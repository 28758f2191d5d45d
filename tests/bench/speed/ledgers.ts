import { mkdtempSync } from 'node:fs';
import { join } from 'node:path';
import { readDocument } from '../../../src/cli/importSchema.js';
import { importLedger } from '../../../src/flow/carry/importLedger.js';
import { openStanchion, readConfig, type Stanchion } from '../../../src/main.js';
import { instant } from '../../../src/units.js';

export const NOW = instant(Date.parse('2026-06-10T09:00:00Z'));

/** Invented: one rider, one bike, one fork. */
const DOCUMENT = {
  workshop: { id: 'w1', name: 'Test bench', timeZone: 'Etc/UTC', openDays: ['mon'] },
  riders: [{ id: 'r1', name: 'Rider One' }],
  bikes: [{ id: 'b1', rider: 'r1', name: 'Bike one', type: 'trail' }],
  units: [{ tag: 'F-1', unitKind: 'fork', history: 'new' }],
  fittings: [{ unit: 'F-1', bike: 'b1', from: '2000-01-01' }],
};

/** Opens a data folder under `folder`, as the program does; an existing database is taken as it is. */
export const openAt = (data: string): Promise<Stanchion> =>
  openStanchion(readConfig({ STANCHION_DATA: data }), { now: NOW, make: true });

/** Returns a new ledger with one fork in a folder of its own. */
export async function newLedger(folder: string): Promise<Stanchion> {
  const stanchion = await openAt(mkdtempSync(join(folder, 'data-')));
  const read = readDocument(DOCUMENT);
  if (!('document' in read)) throw new Error(JSON.stringify(read));
  await stanchion.store.write((tx) => importLedger(tx, read.document, { by: 'bench', at: NOW }));
  return stanchion;
}
