/** Photographs of a store that goes to a server: their facts move, their folder stays in the data folder. */
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { checkLedger } from '../../src/flow/carry/checkLedger.js';
import { verifyCopy } from '../../src/flow/carry/verifyCopy.js';
import { sweepPhotos } from '../../src/flow/photos/sweepPhotos.js';
import { originalsIn } from '../../src/inbox/originals.js';
import { moveStore } from '../../src/store/move.js';
import { openStore } from '../../src/store/open.js';
import { day, instant } from '../../src/units.js';
import { addRings } from '../fixtures/photos.js';
import { scratchFolder } from '../fixtures/program.js';
import { newPlace } from '../fixtures/storePlace.js';
import { takeDemo } from '../samples/takeDemo.js';

const NOW = instant(Date.parse('2026-06-10T09:00:00Z'));

it('moved to a server, each photograph finds its file, a missing one is named, and the sweep takes none of them', async () => {
  const folder = scratchFolder();
  const files = originalsIn(join(folder, 'photos'));
  const from = join(folder, 'stanchion.db');
  await takeDemo(from, day('2026-06-10'), NOW);
  const before = await openStore(from, NOW);
  await before.write((tx) => addRings(tx, files, 'F-0102', NOW));
  await before.close();

  const there = await newPlace();
  await moveStore(from, there, (store) => verifyCopy(store, NOW));
  const store = await openStore(there, NOW);
  expect(await checkLedger(store, files)).toMatchObject({ ok: true, unnamedFiles: [] });
  expect(await sweepPhotos({ store, clock: { now: () => NOW }, photoFiles: files }, 0)).toBe(0);
  const [sha256] = await files.list();
  await files.remove(sha256!);
  expect((await checkLedger(store, files)).faults).toEqual([expect.stringContaining(`${sha256} is missing`)]);
  await store.close();
}, 240_000);
