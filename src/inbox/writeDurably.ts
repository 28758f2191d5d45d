import { randomBytes } from 'node:crypto';
import { rmSync } from 'node:fs';
import { type FileHandle, mkdir, open, rename, rm } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { ServiceError } from '../errors.js';
import { whyNot } from '../whyNot.js';

/** Who may read a file beside its owner; nobody, where nothing is said. */
export interface Rights {
  readonly mode?: number;
  readonly gid?: number;
}

/** Half a file goes with the process that writes it, unless that is killed. */
const parts = new Set<string>();
process.once('exit', () => {
  for (const part of parts) rmSync(part, { force: true });
});

/**
 * Writes a file so that it is there whole or not at all, also after a power loss.
 * Errors: ServiceError `disk-failed`. Source: fsync(2), rename(2): the directory entry needs an fsync of its own.
 */
export async function writeDurably(
  path: string,
  content: Uint8Array | string,
  rights: Rights = {},
): Promise<void> {
  const folder = dirname(path);
  const partial = join(folder, `.${basename(path)}.${randomBytes(4).toString('hex')}.part`);
  parts.add(partial);
  try {
    await mkdir(folder, { recursive: true, mode: 0o700 });
    const file = await open(partial, 'wx', 0o600);
    try {
      await give(file, rights);
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
    const why = whyNot(path, cause);
    throw new ServiceError(
      'disk-failed',
      `${path} could not be written.${why === null ? '' : ` ${why.message}`}`,
      {
        hint: why?.hint ?? 'Is the disk still connected, and does no folder of that name stand in the way?',
        cause,
      },
    );
  } finally {
    parts.delete(partial);
  }
}

async function give(file: FileHandle, { mode, gid }: Rights): Promise<void> {
  const made = await file.stat();
  if (gid !== undefined && gid !== made.gid) {
    const isGiven = await file.chown(made.uid, gid).then(() => true, unlessNotAllowed);
    // A group that this user does not belong to cannot be given it, and the own one need not read it.
    if (!isGiven) return;
  }
  if (mode !== undefined) await file.chmod(mode);
}

function unlessNotAllowed(error: NodeJS.ErrnoException): false {
  if (error.code === 'EPERM') return false;
  throw error;
}
