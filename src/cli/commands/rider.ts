import { join } from 'node:path';
import type { Command } from 'commander';
import { ServiceError } from '../../errors.js';
import { exportRider } from '../../flow/carry/exportRider.js';
import { forgetAll } from '../../flow/carry/forgetAll.js';
import { listNames } from '../../flow/names.js';
import { sweepStore } from '../../main.js';
import { contextOf } from '../context.js';
import { getByHandle, withStanchion } from '../opened.js';
import { renewBackups } from '../renewBackups.js';
import { openPart, writeWhole } from '../writePart.js';

export const rider = async (
  rider: string,
  what: string,
  file: string | undefined,
  _options: unknown,
  command: Command,
) => {
  if (what === 'export' && file !== undefined) return exportTo(command, rider, file);
  if (what === 'forget' && file === undefined) return forget(command, rider);
  throw new ServiceError('wrong-use', 'Say: rider R export FILE.json, or rider R forget.');
};

async function exportTo(command: Command, rider: string, file: string): Promise<void> {
  const { out } = contextOf(command);
  await withStanchion(command, {}, async ({ store }) => {
    const held = await store.read(async (tx) => exportRider(tx, await getByHandle(tx, 'rider', rider)));
    writeWhole(openPart(file), held);
    out.object({ did: 'rider export', ids: [], problems: [] });
    out.line(`All that is held about rider ${rider} is in ${file}.`);
    out.line('The ride files themselves are in originals/, under the names given there.');
  });
}

async function forget(command: Command, rider: string): Promise<void> {
  const { out } = contextOf(command);
  await withStanchion(command, {}, async (stanchion) => {
    const { riderId, names } = await stanchion.store.read(async (tx) => {
      const id = await getByHandle(tx, 'rider', rider);
      return { riderId: id, names: await listNames(tx, 'rider', id) };
    });
    const known = names.find((name) => stanchion.forgetting.hasFolder(name));
    const folder = join(stanchion.config.inboxFolder, known ?? rider);
    if (known !== undefined)
      throw new ServiceError('refused', `The drop folder ${folder} is still there.`, {
        hint: 'It belongs to the rider, so nothing in it is deleted here. Move it away or delete it first.',
      });
    const { handle, originals, photos, messageIds, erased } = await forgetAll(stanchion, riderId);
    await sweepStore(stanchion.config, { waitMs: 10_000 });
    const renewed = await renewBackups(stanchion);
    const counts = {
      originals: originals.length,
      photos: photos.length,
      mails: messageIds.length,
      ...renewed,
    };
    out.object({ did: 'rider forget', ids: [], problems: [], handle, ...counts, erased });
    out.line(`Rider ${rider} is forgotten and is now called ${handle}; the units keep their hours.`);
    out.line(`Deleted: ${counts.originals} ride files, ${counts.mails} mails and what they said.`);
    if (counts.photos > 0) out.line(`Files of photographs deleted: ${counts.photos}.`);
    if (erased > 0)
      out.line(`Entries in which people had typed of the rider: ${erased}, with those words taken out.`);
    if (renewed.backups > 0)
      out.line(`Backups here held the rider: ${renewed.backups} were replaced by one made and verified now.`);
    if (renewed.replaced > 0)
      out.line(`Stores that a restore had set aside are deleted: ${renewed.replaced}.`);
    out.line(
      'Backups and exports elsewhere still hold the rider: delete them. If one is restored here, the rider is forgotten again.',
    );
  });
}
