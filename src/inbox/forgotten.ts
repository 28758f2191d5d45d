import { existsSync, readFileSync, statSync } from 'node:fs';
import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Forgetting } from '../ports/forgetting.js';
import { writeDurably } from './writeDurably.js';

/** Ids that say nothing, one a line, beside the store: they outlive a backup from before that is restored. */
const LIST = 'forgotten.txt';

/** Work that is still to be done for who was forgotten; it is noted beside the store until it is. */
export interface Owed {
  owe(): Promise<void>;
  /** A mark of what it is owed for; null where it is not. */
  mark(): string | null;
  /** Of work that began when this was owed: whoever was forgotten meanwhile is owed it once more. */
  done(mark: string): Promise<void>;
}

export interface ForgottenList extends Pick<Forgetting, 'note' | 'list'> {
  /** The database file still holds what was deleted. From before a rider is. */
  readonly sweep: Owed;
  /** Backups that are kept here still hold somebody. */
  readonly renewal: Owed;
}

/** Returns the list of who was forgotten, in a data folder, and what is still to be done for them. */
export function forgottenIn(dataFolder: string): ForgottenList {
  const path = join(dataFolder, LIST);
  const list = (): string[] =>
    existsSync(path)
      ? readFileSync(path, 'utf8')
          .split('\n')
          .filter((line) => line !== '')
      : [];
  const sweep = owedIn(join(dataFolder, 'sweep-owed'));
  return {
    list: async () => list(),
    note: async (riderId) => {
      const ids = new Set([...list(), riderId]);
      await writeDurably(path, [...ids].map((id) => `${id}\n`).join(''));
      await sweep.owe();
    },
    sweep,
    renewal: owedIn(join(dataFolder, 'renewal-owed')),
  };
}

function owedIn(path: string): Owed {
  const mark = (): string | null => {
    const stats = statSync(path, { bigint: true, throwIfNoEntry: false });
    return stats === undefined ? null : `${stats.ino} ${stats.mtimeNs}`;
  };
  return {
    owe: () => writeDurably(path, ''),
    mark,
    done: async (of) => {
      if (mark() === of) await rm(path, { force: true });
    },
  };
}
