import { readdirSync, rmSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { dayOf } from '../core/days/calendar.js';
import { verifyCopy } from '../flow/carry/verifyCopy.js';
import { backupStore, backupsOf, pathOfStore, type Stanchion } from '../main.js';

/** What still held somebody who is forgotten, and is deleted now. */
export interface Renewed {
  readonly backups: number;
  /** Stores that a restore had set aside. */
  readonly replaced: number;
}

/**
 * Puts one verified backup, made now, in the place of all that are kept here, and deletes stores that were replaced. None
 * is deleted before the new one is verified. Errors: as `backupStore`.
 */
export async function renewBackups({ config, clock }: Stanchion): Promise<Renewed> {
  const folder = backupsOf(config);
  if (folder === null) return { backups: 0, replaced: 0 };
  const [now, path] = [clock.now(), pathOfStore(config)];
  const days = await folder.list();
  if (days.length > 0) {
    const today = dayOf(now, 'UTC');
    const file = join(config.dataFolder, 'backups', `stanchion-${today}.db`);
    await backupStore(path, file, (store) => verifyCopy(store, now), now);
    for (const day of days) if (day !== today) await folder.remove(day);
  }
  const replaced = readdirSync(dirname(path)).filter((name) =>
    name.startsWith(`${basename(path)}.replaced-`),
  );
  for (const name of replaced) rmSync(join(dirname(path), name));
  return { backups: days.length, replaced: replaced.length };
}
