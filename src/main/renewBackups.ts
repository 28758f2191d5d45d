import { readdirSync, rmSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import type { Config } from '../config.js';
import { dayOf } from '../core/days/calendar.js';
import { forgottenIn } from '../inbox/forgotten.js';
import type { Day, Instant } from '../units.js';
import { backupsOf, pathOfStore } from './places.js';

/** What still held somebody who is forgotten, and is deleted now. */
export interface Renewed {
  readonly backups: number;
  /** Stores that a restore had set aside. */
  readonly replaced: number;
}

const NOTHING: Renewed = { backups: 0, replaced: 0 };

/** Makes the backup of a day, verified, as a file. */
type MakeBackup = (day: Day, file: string) => Promise<unknown>;

/** Notes that the backups here hold somebody who is about to be forgotten: it outlives whoever ends the program. */
export const oweRenewal = ({ dataFolder }: Config): Promise<void> => forgottenIn(dataFolder).renewal.owe();

/** Whether somebody was forgotten and not all that is kept here was cleared of it. */
export function isForgettingOwed({ dataFolder }: Config): boolean {
  const { sweep, renewal } = forgottenIn(dataFolder);
  return sweep.mark() !== null || renewal.mark() !== null;
}

/**
 * Where it is owed, puts one verified backup, made now, in the place of all that are kept here, and deletes stores that
 * were replaced. None is deleted before the new one is verified. Errors: as `make`.
 */
export async function renewBackupsIfOwed(config: Config, now: Instant, make: MakeBackup): Promise<Renewed> {
  const { renewal } = forgottenIn(config.dataFolder);
  const owed = renewal.mark();
  const folder = backupsOf(config);
  if (owed === null) return NOTHING;
  const days = (await folder?.list()) ?? [];
  if (folder !== null && days.length > 0) {
    const today = dayOf(now, 'UTC');
    await make(today, join(config.dataFolder, 'backups', `stanchion-${today}.db`));
    for (const day of days) if (day !== today) await folder.remove(day);
  }
  const replaced = folder === null ? [] : replacedBeside(pathOfStore(config));
  for (const path of replaced) rmSync(path, { force: true });
  await renewal.done(owed);
  return { backups: days.length, replaced: replaced.length };
}

const replacedBeside = (path: string): string[] =>
  readdirSync(dirname(path))
    .filter((name) => name.startsWith(`${basename(path)}.replaced-`))
    .map((name) => join(dirname(path), name));
