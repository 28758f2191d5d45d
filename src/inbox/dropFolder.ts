import { mkdir, readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { ServiceError } from '../errors.js';
import type { Inbox, InboxFile } from '../ports.js';
import { type Problem, problem } from '../problems.js';
import { writeDurably } from './writeDurably.js';

/** The file that tells a rider what became of the others. */
export const TOLD_IN = 'what happened.txt';

/** `<rider>/<bike>/` and as much below as exports are usually packed in. */
const DEEPEST = 6;

/** Returns the files below a folder by a full scan; dotfiles and unfinished copies (`.part`) are left alone. */
export async function listFiles(
  folder: string,
): Promise<{ readonly files: readonly InboxFile[]; readonly problems: readonly Problem[] }> {
  const files: InboxFile[] = [];
  const problems: Problem[] = [];
  const walk = async (at: string, path: string, depth: number): Promise<void> => {
    for (const entry of await entriesOf(at)) {
      if (entry.name.startsWith('.') || entry.name.endsWith('.part') || entry.name === TOLD_IN) continue;
      const inner = { at: join(at, entry.name), path: path === '' ? entry.name : `${path}/${entry.name}` };
      if (entry.isDirectory()) {
        if (depth < DEEPEST) await walk(inner.at, inner.path, depth + 1);
        else
          problems.push(
            problem('unsafe-path', 'This folder lies too deep; hand over its files further up.', inner.path),
          );
      } else if (entry.isFile()) {
        const found = await stat(inner.at).catch(() => null);
        // Gone between listing and looking: the next scan tells.
        if (found) files.push({ ...inner, bytes: found.size, modifiedMs: Math.floor(found.mtimeMs) });
      } else {
        problems.push(
          problem(
            'link',
            'This is a link or a device and is not followed. Copy the file itself here.',
            inner.path,
          ),
        );
      }
    }
  };
  await walk(folder, '', 0);
  return { files, problems };
}

async function entriesOf(folder: string) {
  try {
    const entries = await readdir(folder, { withFileTypes: true });
    return entries.sort((a, b) => (a.name < b.name ? -1 : 1));
  } catch (cause) {
    throw new ServiceError('disk-failed', 'scan a folder', `The folder ${folder} cannot be read.`, {
      hint: 'Is it there, mounted, and may this user read it?',
      cause,
    });
  }
}

const isThere = (folder: string): Promise<boolean> =>
  stat(folder).then(
    (found) => found.isDirectory(),
    () => false,
  );

/** Returns the drop folder, made when it is not there yet. */
export async function openDropFolder(folder: string): Promise<Inbox> {
  await mkdir(folder, { recursive: true });
  return {
    scan: async () => ((await isThere(folder)) ? listFiles(folder) : 'missing'),
    tell: (path, text) => writeDurably(join(folder, path, TOLD_IN), text),
  };
}
