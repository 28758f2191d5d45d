import { readdir, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { ServiceError } from '../errors.js';
import { HOUR_MS } from '../units.js';

/** Whatever writes a file is done with it long before. */
const OLD_MS = HOUR_MS;
/** As they are named while they are written; what a person calls by such a name is left alone. */
const PART = /^\..+\.part$/;

/**
 * Removes what a program that was killed had begun to write below a folder: it has no name that anybody would look
 * for, and may hold a rider's places or address. Errors: ServiceError `disk-failed`.
 */
export async function removeParts(folder: string): Promise<void> {
  try {
    const entries = await readdir(folder, { recursive: true, withFileTypes: true });
    for (const entry of entries) {
      const path = join(entry.parentPath, entry.name);
      if (entry.isFile() && PART.test(entry.name) && Date.now() - (await stat(path)).mtimeMs > OLD_MS)
        await rm(path, { force: true });
    }
  } catch (cause) {
    // A folder that was never written to holds nothing; a file that is gone is done.
    if ((cause as NodeJS.ErrnoException).code === 'ENOENT') return;
    throw new ServiceError('disk-failed', `The folder ${folder} cannot be used.`, {
      hint: 'Is it there, and may this user write there?',
      cause,
    });
  }
}
