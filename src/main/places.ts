/** Where a data folder's things are. */
import { statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Config } from '../config.js';
import { ServiceError } from '../errors.js';
import { forgottenIn } from '../inbox/forgotten.js';
import { keptOnce } from '../keptOnce.js';
import { type BackupFolder, backupFolder } from '../store/backupFolder.js';
import { sweep, sweepAside } from '../store/file/sweep.js';
import { LostStore } from '../store/storeFault.js';

const BACKUP_SCRIPT = new URL('../../workers/backUp.js', import.meta.url);
const SWEEP_SCRIPT = new URL('../../workers/sweep.js', import.meta.url);

/** Errors: `disk-failed` where this user may not look. */
export function isThere(path: string): boolean {
  try {
    return statSync(path, { throwIfNoEntry: false }) !== undefined;
  } catch (cause) {
    throw new ServiceError('disk-failed', `You may not read ${dirname(path)}.`, {
      hint: 'Run as the user who owns it. As a service: with the same User= as the service.',
      cause,
    });
  }
}

/** Returns where the store is: a file, or the address of a server. */
export const placeOf = ({ dataFolder, databaseUrl }: Pick<Config, 'dataFolder' | 'databaseUrl'>): string =>
  databaseUrl ?? join(dataFolder, 'stanchion.db');

/** Whether there may be a ledger: of a server only opening it tells. Errors: `disk-failed` where this user may not look. */
export const isLedgerThere = (config: Config): boolean =>
  config.databaseUrl !== null || isThere(placeOf(config));

/** Errors: `refused` where there is no ledger. */
export function needLedger(config: Config): void {
  if (isLedgerThere(config)) return;
  throw new ServiceError('refused', `There is no ledger in ${config.dataFolder} yet.`, {
    hint: 'Make one with: stanchion setup, or name the right folder with --data.',
  });
}

/** Errors: `refused` where the store is on a server, which is copied by means of its own. */
export function pathOfStore(config: Config): string {
  if (config.databaseUrl === null) return placeOf(config);
  throw new ServiceError('refused', 'This store is on a database server.', {
    hint: 'Back it up with the server’s own tools (pg_dump), or copy it into a file: stanchion move FILE',
  });
}

/** Files in two drop folders may have one name: each data folder that shares a server has a name of its own. */
export const homeOf = ({ dataFolder, databaseUrl }: Config): string =>
  databaseUrl === null ? '' : keptOnce(join(dataFolder, 'home'), 8);

/** Returns where files lie while they are sent. */
export const partsFolder = ({ dataFolder }: Config): string => join(dataFolder, 'parts');

/** Returns the fault of a store with the backups that there are, where one of them mends it. */
export async function withBackupsNamed(error: unknown, config: Config): Promise<unknown> {
  const folder = backupsOf(config);
  if (!(error instanceof LostStore) || folder === null) return error;
  const days = (await folder.list()).slice(-3).reverse();
  const { code, message, hint, cause } = error;
  if (days.length === 0) return error;
  const files = days.map((day) => join(config.dataFolder, 'backups', `stanchion-${day}.db`));
  return new ServiceError(code, message, {
    hint: `${hint}\nThe last backups here:\n${files.map((file) => `  stanchion restore ${file}`).join('\n')}`,
    cause,
  });
}

/** Leaves nothing in the database, or its log, of what was deleted. Errors: `store-failed`. */
export const sweepStore = (config: Config, { waitMs }: { readonly waitMs: number }): Promise<void> =>
  sweptOf(config, () => sweep(placeOf(config), waitMs));

/** The same where it is owed, which it says, while the program goes on: a large file takes long. Errors: `store-failed`. */
export async function sweepIfOwed(config: Config, signal: AbortSignal): Promise<boolean> {
  if (forgottenIn(config.dataFolder).sweep.mark() === null) return false;
  await sweptOf(config, () => sweepAside(placeOf(config), SWEEP_SCRIPT, signal));
  return true;
}

async function sweptOf({ dataFolder }: Config, work: () => Promise<void>): Promise<void> {
  const { sweep } = forgottenIn(dataFolder);
  const owed = sweep.mark();
  await work();
  if (owed !== null) await sweep.done(owed);
}

/** Backups that are made here; null where a server keeps the store, and backs it up by means of its own. */
export const backupsOf = (config: Config): BackupFolder | null =>
  config.databaseUrl === null
    ? backupFolder(join(config.dataFolder, 'backups'), placeOf(config), BACKUP_SCRIPT)
    : null;
