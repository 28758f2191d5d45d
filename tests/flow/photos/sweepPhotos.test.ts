/** Files of photographs stay as long as their service, and what nothing names goes by itself. */
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { checkLedger } from '../../../src/flow/carry/checkLedger.js';
import { voidFact } from '../../../src/flow/facts/changeFact.js';
import { addService } from '../../../src/flow/facts/enterFacts.js';
import { addPhoto, keepPhotos, pathOfFile, removePhoto } from '../../../src/flow/photos/photos.js';
import { listOrphans, sweepPhotos } from '../../../src/flow/photos/sweepPhotos.js';
import { originalsIn } from '../../../src/inbox/originals.js';
import { encodePhoto } from '../../../src/photos/encodePhoto.js';
import type { MadePhoto } from '../../../src/ports/originals.js';
import { DAY_MS, day } from '../../../src/units.js';
import { addRings, ringsPicture } from '../../fixtures/photos.js';
import { scratchFolder } from '../../fixtures/program.js';
import { FlowWorld } from '../flowWorld.js';

const START = '2026-06-10T09:00:00Z';
const later = (days: number): string => new Date(Date.parse(START) + days * DAY_MS).toISOString();

async function photoWorld() {
  const world = await FlowWorld.open(START);
  const photoFiles = originalsIn(join(scratchFolder(), 'photos'));
  const deps = { ...world.deps, photoFiles };
  const { store } = world.deps;
  const entry = () => ({ by: 'owner', at: world.deps.clock.now() });
  const addRingsNow = () => store.write((tx) => addRings(tx, photoFiles, 'F-1', entry().at));
  const logService = () =>
    store.write(async (tx) => {
      const unitId = (await tx.handles.find('unit', 'F-1'))!;
      const said = {
        unitId,
        serviceKind: 'lower-leg',
        on: day('2026-06-10'),
        by: 'here',
        findings: null,
        note: null,
      } as const;
      return addService(tx, said, entry());
    });
  const takeBack = (factId: string) => store.write((tx) => voidFact(tx, factId, 'the wrong fork', entry()));
  const photos = () => store.read((tx) => tx.facts.list('photo'));
  return { world, store, photoFiles, deps, entry, addRingsNow, logService, takeBack, photos };
}

it('a photograph stays as long as its service stands, however old', async () => {
  const { world, deps, addRingsNow, logService, photos, photoFiles } = await photoWorld();
  await addRingsNow();
  await logService();
  expect((await photos())[0]!.body.serviceId).not.toBeNull();
  world.now = later(4000);
  expect(await sweepPhotos(deps, 0)).toBe(0);
  expect(await photos()).toHaveLength(1);
  expect(await photoFiles.list()).toHaveLength(1);
});

it('one whose service is taken back waits a month for another, then goes with its files', async () => {
  const { world, deps, addRingsNow, logService, takeBack, photos, photoFiles } = await photoWorld();
  await addRingsNow();
  const service = await logService();
  world.now = later(100);
  await takeBack(service);
  world.now = later(129);
  expect(await sweepPhotos(deps)).toBe(0);
  expect(await photos()).toHaveLength(1);
  world.now = later(130);
  expect(await sweepPhotos(deps)).toBe(1);
  expect(await photos()).toEqual([]);
  expect(await photoFiles.list()).toEqual([]);
});

it('one that another service took up meanwhile stays, and so does one that waits for its first', async () => {
  const { world, deps, addRingsNow, logService, takeBack, photos } = await photoWorld();
  await addRingsNow();
  await takeBack(await logService());
  world.now = later(20);
  await logService();
  await addRingsNow();
  world.now = later(400);
  expect(await sweepPhotos(deps)).toBe(0);
  expect(await photos()).toHaveLength(2);
});

it('the same picture of a standing service keeps its file when the other goes', async () => {
  const { world, deps, addRingsNow, logService, takeBack, photos, photoFiles } = await photoWorld();
  await addRingsNow();
  const first = await logService();
  await addRingsNow();
  await logService();
  await takeBack(first);
  world.now = later(60);
  await sweepPhotos(deps);
  expect(await photos()).toHaveLength(1);
  expect(await photoFiles.list()).toHaveLength(1);
});

it('a file that nothing names is named by the check as no fault, and goes once it lay there for a month', async () => {
  const { store, deps, photoFiles, addRingsNow } = await photoWorld();
  await addRingsNow();
  const orphan = await photoFiles.keep(Buffer.from('left by an upload that was cut off'));
  const checked = await checkLedger(store, photoFiles);
  expect(checked).toMatchObject({ ok: true, faults: [], unnamedFiles: [pathOfFile(orphan)] });
  // By the clock of the machine it came just now.
  expect(await sweepPhotos(deps)).toBe(0);
  expect(await sweepPhotos(deps, 0)).toBe(1);
  expect(await listOrphans(store, photoFiles)).toEqual([]);
  expect(await photoFiles.list()).toHaveLength(1);
});

it('a picture that is taken back, or swept, while it comes again is there in the end', async () => {
  const { store, photoFiles, photos, deps, entry } = await photoWorld();
  const made = (await encodePhoto(await ringsPicture({ width: 200, height: 150 }))) as MadePhoto;
  const unitId = (await store.read((tx) => tx.handles.find('unit', 'F-1')))!;
  const add = (between: () => Promise<void> = async () => {}) =>
    keepPhotos(photoFiles, [made], async ([kept]) => {
      await between();
      const said = { unitId, shows: 'rings', showsPerson: false, takenBy: 'workshop' } as const;
      return store.write((tx) => addPhoto(tx, kept!, said, entry()));
    });
  const first = await add();
  await add(async () => {
    const gone = await store.write((tx) => removePhoto(tx, unitId, first.entityId, 'taken back', entry()));
    for (const hash of gone) await photoFiles.remove(hash);
  });
  expect((await checkLedger(store, photoFiles)).faults).toEqual([]);
  for (const { entityId } of await photos())
    await store.write((tx) => removePhoto(tx, unitId, entityId, 'taken back', entry()));
  await add(async () => void (await sweepPhotos(deps, 0)));
  expect(await photos()).toHaveLength(1);
  expect((await checkLedger(store, photoFiles)).faults).toEqual([]);
});

it('a file that is not what it was is named', async () => {
  const { store, photoFiles, photos, addRingsNow } = await photoWorld();
  await addRingsNow();
  const [fact] = await photos();
  const faulty = { ...photoFiles, look: async () => 'damaged' as const };
  const checked = await checkLedger(store, faulty);
  expect(checked.ok).toBe(false);
  expect(checked.faults).toEqual([`photograph ${fact!.id}: ${pathOfFile(fact!.body.sha256)} is damaged`]);
});
