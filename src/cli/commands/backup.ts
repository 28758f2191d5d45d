import { chmodSync, constants, copyFileSync, existsSync, mkdirSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { createInterface } from 'node:readline/promises';
import type { Command } from 'commander';
import { forgetAgain } from '../../flow/carry/forgetAll.js';
import { verifyCopy } from '../../flow/carry/verifyCopy.js';
import {
  atWorkIn,
  backupStore,
  bringPhotos,
  type Config,
  moveStore,
  pathOfStore,
  placeOf,
  removeReplaced,
  restoreStore,
  sweepStore,
} from '../../main.js';
import type { Store } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { contextOf, timeOf } from '../context.js';
import { unlessInterrupted } from '../interrupted.js';
import { configOf, withStanchion, withStore } from '../opened.js';
import { type Beside, startTelling } from '../progress.js';

/** It signs links and sessions, and lies in no backup. */
const SECRET =
  'On another machine, bring the file secret of the old data folder too (or STANCHION_SECRET): without it links in mails that were sent no longer open.';

const SWEEP = { waitMs: 10_000 };

/** By the clock of the call; how far it is is told. */
const verifyAt = (now: Instant, beside?: Beside) => async (store: Store) => {
  const telling = startTelling(beside);
  try {
    return await verifyCopy(store, now, telling.told);
  } finally {
    telling.done();
  }
};

const STANDS = {
  backup: {
    message: 'Interrupted: no backup was made.',
    hint: 'The store is as it was, and so is an earlier backup of that name. Give the command again.',
  },
  restore: {
    message: 'Interrupted: nothing was restored; the store is as it was.',
    hint: 'Give it again.',
  },
  move: {
    message: 'Interrupted: nothing was moved.',
    hint: 'The store is as it was, and the other place holds no ledger. Give it again.',
  },
};

export const backUp = async (file: string, _options: unknown, command: Command) => {
  const context = contextOf(command);
  const now = timeOf(context);
  const bytes = await withStore(command, (config) =>
    unlessInterrupted(context.out, STANDS.backup, () =>
      backupStore(pathOfStore(config), file, verifyAt(now, atWorkIn(config.dataFolder, 'backup')), now),
    ),
  );
  context.out.object({ did: 'backup', ids: [], problems: [], bytes });
  context.out.line(`Backed up and verified: ${file}, ${bytes} bytes.`);
  context.out.line(
    'Ride files in originals/, photographs in photos/ and mails in outbox/ are files of their own: copy those folders too.',
  );
};

export const restore = async (file: string, { clean }: { clean?: true }, command: Command) => {
  const context = contextOf(command);
  const config = configOf(command);
  mkdirSync(config.dataFolder, { recursive: true });
  const now = timeOf(context);
  const kept = await unlessInterrupted(context.out, STANDS.restore, () =>
    restoreStore(pathOfStore(config), file, verifyAt(now), now),
  );
  const carried = carrySecret(config, file);
  const { forgotten, photos } = await withStanchion(command, {}, async (stanchion) => ({
    forgotten: await forgetAgain(stanchion),
    photos: await bringPhotos(stanchion, config, file),
  }));
  if (forgotten > 0) await sweepStore(config, SWEEP);
  context.out.line(`Restored and verified: ${file}.`);
  const isCleaned = kept !== null && (clean ?? (await agrees(`Delete what was there before (${kept})?`)));
  if (kept !== null && isCleaned) removeReplaced(kept);
  if (kept !== null)
    context.out.line(
      isCleaned
        ? 'What was there before is deleted.'
        : `What was there is kept as ${kept}. Delete it once all is well: it still holds who was forgotten.`,
    );
  context.out.line(carried === null ? SECRET : `The secret came along from ${carried}.`);
  if (photos.brought > 0)
    context.out.line(`Files of photographs that lay with the backup came along: ${photos.brought}.`);
  if (photos.missing > 0)
    context.out.line(
      `Files of photographs that are missing: ${photos.missing}. Copy the old folder photos/ here; stanchion check names them.`,
    );
  if (forgotten > 0) context.out.line(`Riders forgotten again: ${forgotten}.`);
  context.out.object({
    ...{ did: 'restore', ids: [], problems: [], kept: isCleaned ? null : kept, forgotten, secret: carried },
    photos,
  });
};

/** Asks a person; where nobody sits at a terminal the answer is no. */
async function agrees(question: string): Promise<boolean> {
  if (!process.stdin.isTTY || !process.stderr.isTTY) return false;
  const terminal = createInterface({ input: process.stdin, output: process.stderr });
  try {
    return /^y(es)?$/i.test((await terminal.question(`${question} [y/N] `)).trim());
  } finally {
    terminal.close();
  }
}

/** Returns where the secret of a backup was found, which is brought along where this folder has none; else null. */
function carrySecret({ dataFolder, secret }: Config, backup: string): string | null {
  const own = join(dataFolder, 'secret');
  if (secret !== null || existsSync(own)) return null;
  // Beside the backup, or in the data folder, or its copy, in which the folder of backups lies.
  const beside = dirname(resolve(backup));
  const found = [join(beside, 'secret'), join(dirname(beside), 'secret')].find((path) => existsSync(path));
  if (found === undefined) return null;
  copyFileSync(found, own, constants.COPYFILE_EXCL);
  chmodSync(own, 0o600);
  return found;
}

export const move = async (to: string, _options: unknown, command: Command) => {
  const context = contextOf(command);
  const { out } = context;
  const telling = startTelling();
  const rows = await withStore(command, (config) =>
    unlessInterrupted(out, STANDS.move, () =>
      moveStore(placeOf(config), to, verifyAt(timeOf(context)), telling.told),
    ),
  );
  telling.done();
  out.object({ did: 'move', ids: [], problems: [], rows });
  const all = Object.values(rows).reduce((sum, count) => sum + count, 0);
  out.line(`Moved and verified: ${all} rows.`);
  out.line(SECRET);
  out.line('Photographs in photos/ and ride files in originals/ stay in the data folder: bring them too.');
  out.line('The store that you moved from is as it was. Stop every program that still writes to it.');
};
