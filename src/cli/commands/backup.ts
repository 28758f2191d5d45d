import { mkdirSync } from 'node:fs';
import type { Command } from 'commander';
import { forgetAgain } from '../../flow/carry/forgetAll.js';
import { verifyCopy } from '../../flow/carry/verifyCopy.js';
import { backupStore, moveStore, pathOfStore, placeOf, restoreStore, sweepStore } from '../../main.js';
import type { Store } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { contextOf, timeOf } from '../context.js';
import { configOf, withStanchion } from '../opened.js';

/** It signs links and sessions, and lies in no backup. */
const SECRET =
  'On another machine, bring the file secret of the old data folder too (or STANCHION_SECRET): without it links in mails that were sent no longer open.';

const SWEEP = { waitMs: 10_000 };

/** By the clock of the call. */
const verifyAt = (now: Instant) => (store: Store) => verifyCopy(store, now);

export const backUp = async (file: string, _options: unknown, command: Command) => {
  const context = contextOf(command);
  const now = timeOf(context);
  const bytes = await backupStore(pathOfStore(configOf(command)), file, verifyAt(now), now);
  context.out.object({ did: 'backup', ids: [], problems: [], bytes });
  context.out.line(`Backed up and verified: ${file}, ${bytes} bytes.`);
  context.out.line(
    'Ride files in originals/ and mails in outbox/ are files of their own: copy those folders too.',
  );
};

export const restore = async (file: string, _options: unknown, command: Command) => {
  const context = contextOf(command);
  const config = configOf(command);
  mkdirSync(config.dataFolder, { recursive: true });
  const now = timeOf(context);
  const kept = await restoreStore(pathOfStore(config), file, verifyAt(now), now);
  const forgotten = await withStanchion(command, {}, forgetAgain);
  if (forgotten > 0) await sweepStore(config, SWEEP);
  context.out.object({ did: 'restore', ids: [], problems: [], kept, forgotten });
  context.out.line(`Restored and verified: ${file}.`);
  if (kept !== null)
    context.out.line(
      `What was there is kept as ${kept}. Delete it once all is well: it still holds who was forgotten.`,
    );
  context.out.line(SECRET);
  if (forgotten > 0) context.out.line(`Riders forgotten again: ${forgotten}.`);
};

export const move = async (to: string, _options: unknown, command: Command) => {
  const context = contextOf(command);
  const { out } = context;
  const rows = await moveStore(placeOf(configOf(command)), to, verifyAt(timeOf(context)));
  out.object({ did: 'move', ids: [], problems: [], rows });
  const all = Object.values(rows).reduce((sum, count) => sum + count, 0);
  out.line(`Moved and verified: ${all} rows.`);
  out.line(SECRET);
  out.line('The store that you moved from is as it was. Stop every program that still writes to it.');
};
