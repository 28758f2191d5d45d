import { mkdir, readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { ServiceError } from '../errors.js';
import type { Inbox } from '../ports/inbox.js';
import { type Problem, problem } from '../problems.js';
import { codeOf, listFiles, TOLD_IN } from './listFiles.js';
import { whatHappenedText } from './whatHappened.js';
import { writeDurably } from './writeDurably.js';

/** Returns the drop folder. Where it is not made, one that is missing may be a disk that is not connected. */
export async function openDropFolder(folder: string, { make = true } = {}): Promise<Inbox> {
  if (make) await mkdir(folder, { recursive: true });
  return {
    scan: async () => {
      const isEmpty = await readdir(folder).then(
        (names) => names.length === 0,
        (error: unknown) => (['ENOENT', 'ENOTDIR'].includes(codeOf(error)) ? null : false),
      );
      if (isEmpty === null) return 'missing';
      return isEmpty ? 'empty' : listFiles(folder);
    },
    tell: (path, told) => tell(folder, path, whatHappenedText(told)),
  };
}

/** Whoever may write into a folder may read what became of the files in it. */
async function tell(folder: string, path: string, text: string): Promise<Problem | null> {
  const at = join(folder, path);
  const found = await stat(at).catch((error: unknown) => codeOf(error));
  // Nobody is left to be told.
  if (found === 'ENOENT') return null;
  const rights =
    typeof found === 'string' ? {} : { mode: 0o600 | ((found.mode & 0o022) << 1), gid: found.gid };
  try {
    await writeDurably(join(at, TOLD_IN), text, rights);
    return null;
  } catch (error) {
    if (!(error instanceof ServiceError)) throw error;
    const message = `What became of the files here cannot be written down: ${error.message}`;
    return problem('disk-failed', message, path === '' ? TOLD_IN : `${path}/${TOLD_IN}`);
  }
}
