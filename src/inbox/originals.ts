import { createHash } from 'node:crypto';
import { access, readdir, readFile, rm } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { ServiceError } from '../errors.js';
import type { KeptOriginals, Originals } from '../ports/originals.js';
import { writeDurably } from './writeDurably.js';

const pathOf = (folder: string, sha256: string): string => join(folder, sha256.slice(0, 2), sha256);

/** Returns a store of files by the SHA-256 of their content, in a folder a first byte. */
export const originalsIn = (folder: string): Originals & KeptOriginals => ({
  keep: async (bytes) => {
    const sha256 = createHash('sha256').update(bytes).digest('hex');
    const path = pathOf(folder, sha256);
    if (!(await exists(path))) await writeDurably(path, bytes);
    return sha256;
  },
  list: async () => (await namesIn(folder)).filter((name) => /^[0-9a-f]{64}$/.test(name)),
  read: (sha256) => readOriginal(pathOf(folder, sha256)),
  remove: (sha256) => removeOriginal(folder, sha256),
});

async function readOriginal(path: string): Promise<Uint8Array | null> {
  try {
    return await readFile(path);
  } catch (cause) {
    if ((cause as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw new ServiceError('disk-failed', `The file ${path} cannot be read.`, {
      hint: 'May this user read it?',
      cause,
    });
  }
}

/** A folder that was never written to holds nothing. */
async function namesIn(folder: string): Promise<string[]> {
  try {
    return (await readdir(folder, { recursive: true })).map((path) => basename(path));
  } catch (cause) {
    if ((cause as NodeJS.ErrnoException).code === 'ENOENT') return [];
    throw new ServiceError('disk-failed', `The folder ${folder} cannot be read.`, {
      hint: 'Is it there, and may this user read it?',
      cause,
    });
  }
}

const exists = (path: string): Promise<boolean> =>
  access(path).then(
    () => true,
    () => false,
  );

/** Removes a file for good; one that is not there is no fault. Errors: ServiceError `disk-failed`. */
export async function removeOriginal(folder: string, sha256: string): Promise<void> {
  try {
    await rm(pathOf(folder, sha256), { force: true });
  } catch (cause) {
    throw new ServiceError('disk-failed', `A file in ${folder} could not be removed.`, {
      hint: 'May this user write there?',
      cause,
    });
  }
}
