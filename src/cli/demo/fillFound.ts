/** What was found at one service of the demo: a photograph of its rings, how it was handed over, and the rider is told. */
import { ringsPicture } from '../../../samples/ringsPicture.js';
import type { Entry } from '../../flow/entry.js';
import { arrive, changeJob, collect, findStay } from '../../flow/facts/jobs.js';
import { queueFound } from '../../flow/mail/kinds/found.js';
import { addPhoto, keepPhotos } from '../../flow/photos/photos.js';
import { addSetUp } from '../../flow/plan/setUps.js';
import type { Stanchion } from '../../main.js';
import type { Tx } from '../../ports/store.js';
import { getByHandle } from '../opened.js';

/** Pictures its rings; they wait for the service. */
export async function pictureRings(stanchion: Stanchion, tag: string, entry: Entry): Promise<void> {
  const { store, photoMaker, photoFiles } = stanchion;
  const made = await photoMaker.make(ringsPicture(tag));
  if (typeof made === 'string') throw new Error(`the demo's picture was answered with ${made}`);
  await keepPhotos(photoFiles, [made], (kept) =>
    store.write(async (tx) => {
      const unitId = await getByHandle(tx, 'unit', tag);
      await arrive(tx, unitId, {}, entry);
      const said = { unitId, shows: 'rings', showsPerson: false, takenBy: 'workshop' } as const;
      for (const one of kept) await addPhoto(tx, one, said, entry);
    }),
  );
}

/** The service is done: its rider is told by mail what was found. */
export async function tellFound(tx: Tx, tag: string, entry: Entry, { ids }: Stanchion): Promise<void> {
  const unitId = await getByHandle(tx, 'unit', tag);
  const values = { pressure: '74 psi, bench pump', sag: '30 mm', rebound: '7' };
  await addSetUp(tx, { unitId, stage: 'left', name: null, values }, entry);
  const stay = await findStay(tx, unitId);
  await changeJob(tx, unitId, stay!.factId, { step: 'informed', informedBy: 'mail' }, entry);
  if (!(await queueFound(tx, unitId, entry.at, ids))) throw new Error(`the demo tells nobody of ${tag}`);
}

/** Its rider comes for it. */
export async function collectFound(tx: Tx, tag: string, entry: Entry): Promise<void> {
  const unitId = await getByHandle(tx, 'unit', tag);
  await collect(tx, unitId, (await findStay(tx, unitId))!.factId, false, entry);
}
