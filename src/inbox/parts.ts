import { randomBytes } from 'node:crypto';
import { mkdir, open, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { ServiceError } from '../errors.js';
import type { Parts, SentPart } from '../ports/inbox.js';
import { removeParts } from './removeParts.js';

const MOST_BYTES = 1_000_000_000;

/** Returns the folder in which files lie while they are sent; what a program that was killed left there goes after an hour. */
export function partsIn(folder: string, mostBytes = MOST_BYTES): Parts {
  let held = 0;
  let isSwept = false;
  const begin = async (): Promise<SentPart> => {
    await mkdir(folder, { recursive: true, mode: 0o700 });
    // Later on there may be some of this program's own.
    if (!isSwept) await removeParts(folder);
    isSwept = true;
    const path = join(folder, `.${randomBytes(16).toString('hex')}.part`);
    const file = await open(path, 'wx', 0o600);
    let [own, isOpen] = [0, true];
    const close = async (): Promise<void> => {
      if (isOpen) await file.close();
      isOpen = false;
    };
    return {
      path,
      add: (bytes) =>
        onDisk(async () => {
          if (held + bytes.length > mostBytes) return false;
          held += bytes.length;
          own += bytes.length;
          await file.writeFile(bytes);
          return true;
        }),
      close: () => onDisk(close),
      remove: async () => {
        held -= own;
        own = 0;
        await close();
        await rm(path, { force: true });
      },
    };
  };
  return { begin: () => onDisk(begin) };
}

async function onDisk<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (cause) {
    if (cause instanceof ServiceError) throw cause;
    throw new ServiceError('disk-failed', 'What was sent could not be written down.', {
      hint: 'Is the disk full, or the data folder read-only?',
      cause,
    });
  }
}
