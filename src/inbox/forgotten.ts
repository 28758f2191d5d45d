import { existsSync, readFileSync, statSync } from 'node:fs';
import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Forgetting } from '../ports/forgetting.js';
import { writeDurably } from './writeDurably.js';

/** Ids that say nothing, one a line, beside the store: they outlive a backup from before that is restored. */
const LIST = 'forgotten.txt';
/** There from before a rider is deleted until the database file was swept. */
const OWED = 'sweep-owed';

export interface ForgottenList extends Pick<Forgetting, 'note' | 'list'> {
  /** A mark of what a sweep is owed for; null where none is. */
  sweepOwed(): string | null;
  /** Of a sweep that began when this was owed: whoever was forgotten meanwhile is owed another. */
  sweepDone(owed: string): Promise<void>;
}

/** Returns the list of who was forgotten, in a data folder. */
export function forgottenIn(dataFolder: string): ForgottenList {
  const [path, owed] = [join(dataFolder, LIST), join(dataFolder, OWED)];
  const list = (): string[] =>
    existsSync(path)
      ? readFileSync(path, 'utf8')
          .split('\n')
          .filter((line) => line !== '')
      : [];
  const sweepOwed = (): string | null => {
    const stats = statSync(owed, { bigint: true, throwIfNoEntry: false });
    return stats === undefined ? null : `${stats.ino} ${stats.mtimeNs}`;
  };
  return {
    list: async () => list(),
    note: async (riderId) => {
      const ids = new Set([...list(), riderId]);
      await writeDurably(path, [...ids].map((id) => `${id}\n`).join(''));
      await writeDurably(owed, '');
    },
    sweepOwed,
    sweepDone: async (done) => {
      if (sweepOwed() === done) await rm(owed, { force: true });
    },
  };
}
