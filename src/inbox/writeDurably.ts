import { randomBytes } from 'node:crypto';
import { mkdir, open, rename, rm } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { ServiceError } from '../errors.js';

/**
 * Writes a file so that it is there whole or not at all, also after a power loss.
 * Errors: ServiceError `disk-failed`. Source: fsync(2), rename(2): the directory entry needs an fsync of its own.
 */
export async function writeDurably(path: string, content: Uint8Array | string): Promise<void> {
  const folder = dirname(path);
  const partial = join(folder, `.${basename(path)}.${randomBytes(4).toString('hex')}.part`);
  try {
    await mkdir(folder, { recursive: true });
    const file = await open(partial, 'wx');
    try {
      await file.writeFile(content);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(partial, path);
    const directory = await open(folder);
    try {
      await directory.sync();
    } finally {
      await directory.close();
    }
  } catch (cause) {
    // On a full disk each try would leave one more behind.
    await rm(partial, { force: true }).catch(() => undefined);
    throw new ServiceError('disk-failed', `${path} could not be written.`, {
      hint: 'Is the disk full, or the folder read-only?',
      cause,
    });
  }
}
