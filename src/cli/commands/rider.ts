import { join } from 'node:path';
import type { Command } from 'commander';
import { ServiceError } from '../../errors.js';
import { exportRider } from '../../flow/carry/exportRider.js';
import { forgetAgain, forgetAll } from '../../flow/carry/forgetAll.js';
import { verifyCopy } from '../../flow/carry/verifyCopy.js';
import { listNames } from '../../flow/names.js';
import {
  backupStore,
  isForgettingOwed,
  oweRenewal,
  pathOfStore,
  type Renewed,
  renewBackupsIfOwed,
  type Stanchion,
  sweepStore,
} from '../../main.js';
import { contextOf } from '../context.js';
import { unlessInterrupted } from '../interrupted.js';
import { getByHandle, withStanchion } from '../opened.js';
import type { Output } from '../output.js';
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

const UNWRITTEN = {
  message: 'Interrupted: nothing was exported.',
  hint: 'A file of that name is as it was. Give it again.',
};

async function exportTo(command: Command, rider: string, file: string): Promise<void> {
  const { out } = contextOf(command);
  await withStanchion(command, {}, async ({ store }) => {
    await unlessInterrupted(out, UNWRITTEN, async () => {
      const held = await store.read(async (tx) => exportRider(tx, await getByHandle(tx, 'rider', rider)));
      writeWhole(openPart(file), held);
    });
    out.object({ did: 'rider export', ids: [], problems: [] });
    out.line(`All that is held about rider ${rider} is in ${file}.`);
    out.line('The ride files themselves are in originals/, under the names given there.');
  });
}

const UNDONE = {
  message: 'Interrupted: the rider is not forgotten everywhere yet.',
  hint: 'Give the same command again: it finishes what is left. A server that runs finishes it by itself.',
};

async function forget(command: Command, rider: string): Promise<void> {
  const { out } = contextOf(command);
  await withStanchion(command, {}, async (stanchion) => {
    const { config } = stanchion;
    const riderId = await stanchion.store.read((tx) => tx.handles.find('rider', rider));
    if (riderId === undefined && isForgettingOwed(config))
      return unlessInterrupted(out, UNDONE, () => finish(stanchion, out));
    const names = await stanchion.store.read(async (tx) =>
      listNames(tx, 'rider', await getByHandle(tx, 'rider', rider)),
    );
    const known = names.find((name) => stanchion.forgetting.hasFolder(name));
    if (known !== undefined)
      throw new ServiceError(
        'refused',
        `The drop folder ${join(config.inboxFolder, known)} is still there.`,
        {
          hint: 'It belongs to the rider, so nothing in it is deleted here. Move it away or delete it first.',
        },
      );
    const { forgotten, renewed } = await unlessInterrupted(out, UNDONE, async () => {
      await oweRenewal(config);
      return { forgotten: await forgetAll(stanchion, riderId!), renewed: await clear(stanchion) };
    });
    const { handle, originals, photos, messageIds, erased } = forgotten;
    const counts = { originals: originals.length, photos: photos.length, mails: messageIds.length };
    out.object({ did: 'rider forget', ids: [], problems: [], handle, ...counts, ...renewed, erased });
    out.line(`Rider ${rider} is forgotten and is now called ${handle}; the units keep their hours.`);
    out.line(`Deleted: ${counts.originals} ride files, ${counts.mails} mails and what they said.`);
    if (counts.photos > 0) out.line(`Files of photographs deleted: ${counts.photos}.`);
    if (erased > 0)
      out.line(`Entries in which people had typed of the rider: ${erased}, with those words taken out.`);
    tellRenewed(out, renewed);
  });
}

/** Takes up what an earlier call was interrupted in: its rider may have no name any more. */
async function finish(stanchion: Stanchion, out: Output): Promise<void> {
  const riders = await forgetAgain(stanchion);
  const renewed = await clear(stanchion);
  out.object({ did: 'rider forget', ids: [], problems: [], finished: true, riders, ...renewed });
  out.line('What an earlier command to forget a rider had left undone is done now.');
  tellRenewed(out, renewed);
}

/** Leaves nothing of who was forgotten in the database file and in the backups that are kept here. */
async function clear({ config, clock }: Stanchion): Promise<Renewed> {
  await sweepStore(config, { waitMs: 10_000 });
  const now = clock.now();
  return renewBackupsIfOwed(config, now, (_day, file) =>
    backupStore(pathOfStore(config), file, (store) => verifyCopy(store, now), now),
  );
}

function tellRenewed(out: Output, { backups, replaced }: Renewed): void {
  if (backups > 0)
    out.line(`Backups here held the rider: ${backups} were replaced by one made and verified now.`);
  if (replaced > 0) out.line(`Stores that a restore had set aside are deleted: ${replaced}.`);
  out.line(
    'Backups and exports elsewhere still hold the rider: delete them. If one is restored here, the rider is forgotten again.',
  );
}
