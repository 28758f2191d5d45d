import { createHash } from 'node:crypto';
import { readdir, readFile, rm, stat, utimes } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { ServiceError } from '../errors.js';
import type { PhotoFiles } from '../ports/originals.js';
import { writeDurably } from './writeDurably.js';

const pathOf = (folder: string, sha256: string): string => join(folder, sha256.slice(0, 2), sha256);

/** Returns a store of files by the SHA-256 of their content, in a folder a first byte. */
export const originalsIn = (folder: string): PhotoFiles => ({
  keep: async (bytes) => {
    const sha256 = hashOf(bytes);
    const path = pathOf(folder, sha256);
    if (!(await touched(path))) await writeDurably(path, bytes);
    return sha256;
  },
  list: () => listIn(folder),
  listUntouched: async (ms) => {
    const old: string[] = [];
    for (const sha256 of await listIn(folder))
      if (Date.now() - (await cameAt(pathOf(folder, sha256))) >= ms) old.push(sha256);
    return old;
  },
  look: async (sha256) => {
    const bytes = await readOriginal(pathOf(folder, sha256));
    if (bytes === null) return 'missing';
    return hashOf(bytes) === sha256 ? 'whole' : 'damaged';
  },
  read: (sha256) => readOriginal(pathOf(folder, sha256)),
  remove: (sha256) => removeOriginal(folder, sha256),
});

const hashOf = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

const listIn = async (folder: string): Promise<string[]> =>
  (await namesIn(folder)).filter((name) => /^[0-9a-f]{64}$/.test(name));

/** Marks all that is kept as if it had come now: what a restored store does not name may be another’s. */
export async function touchOriginals(folder: string): Promise<void> {
  for (const sha256 of await listIn(folder)) await touched(pathOf(folder, sha256));
}

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

/** Marks a file as if it had come now; false where it is not there. */
const touched = (path: string): Promise<boolean> =>
  utimes(path, new Date(), new Date()).then(
    () => true,
    () => false,
  );

/** When a file was written, touched or brought here: no copy can keep that moment. One that just went came never. */
const cameAt = (path: string): Promise<number> =>
  stat(path).then(
    ({ ctimeMs }) => ctimeMs,
    () => Number.POSITIVE_INFINITY,
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
