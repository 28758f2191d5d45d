import type { Dirent, Stats } from 'node:fs';
import { lstat, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { ServiceError } from '../errors.js';
import type { InboxFile } from '../ports/inbox.js';
import { type Problem, problem } from '../problems.js';

/** The file that tells a rider what became of the others. */
export const TOLD_IN = 'what happened.txt';
/** It, and the copies of it that a tool makes where both sides changed it. */
const IS_TOLD = /^what happened\b.*\.txt$/;

/** `<rider>/<bike>/` and as much below as exports are usually packed in. */
const DEEPEST = 6;

const TOO_DEEP = 'This folder is nested too deep. Move its files further up.';
const UNREADABLE = 'This cannot be read. May this program read it, and is its disk sound?';
const NO_PLAIN_FILE = 'This is a link or a device and is not followed. Copy the file itself here.';
const ODD_NAME = 'Its name cannot be read on this system. Give it another one.';

interface Listing {
  readonly files: InboxFile[];
  readonly problems: Problem[];
}

/**
 * Returns the files below a folder by a full scan; dotfiles and unfinished copies (`.part`) are left alone.
 * Errors: ServiceError `disk-failed`, of the folder itself; what is wrong below it is a problem.
 */
export async function listFiles(
  folder: string,
): Promise<{ readonly files: readonly InboxFile[]; readonly problems: readonly Problem[] }> {
  const listing: Listing = { files: [], problems: [] };
  const entries = await entriesOf(folder).catch((cause: unknown) => {
    throw new ServiceError('disk-failed', `The folder ${folder} cannot be read.`, {
      hint: 'Is it there, mounted, and may this user read it?',
      cause,
    });
  });
  await walk(entries, { at: folder, path: '' }, 0, listing);
  return listing;
}

interface Place {
  readonly at: string;
  readonly path: string;
}

async function walk(
  entries: readonly Dirent[],
  { at, path }: Place,
  depth: number,
  listing: Listing,
): Promise<void> {
  for (const entry of entries) {
    if (entry.name.startsWith('.') || entry.name.endsWith('.part') || IS_TOLD.test(entry.name)) continue;
    const inner = { at: join(at, entry.name), path: path === '' ? entry.name : `${path}/${entry.name}` };
    if (entry.isDirectory()) await walkFolder(inner, depth + 1, listing);
    else if (entry.isFile()) await addFile(inner, listing);
    else listing.problems.push(problem('link', NO_PLAIN_FILE, inner.path));
  }
}

async function walkFolder(place: Place, depth: number, listing: Listing): Promise<void> {
  if (depth > DEEPEST) {
    listing.problems.push(problem('too-deep', TOO_DEEP, place.path));
    return;
  }
  const entries = await unlessGone(() => entriesOf(place.at), place, listing);
  if (entries) await walk(entries, place, depth, listing);
}

async function addFile(place: Place, listing: Listing): Promise<void> {
  const found: Stats | null = await unlessGone(() => lstat(place.at), place, listing);
  if (!found) return;
  listing.files.push({
    ...place,
    bytes: found.size,
    modifiedMs: Math.floor(found.mtimeMs),
    changedMs: Math.floor(found.ctimeMs),
  });
}

/** What went away between listing and looking is told by the next scan; a name that was no text never comes back. */
async function unlessGone<T>(
  work: () => Promise<T>,
  { path }: Place,
  { problems }: Listing,
): Promise<T | null> {
  try {
    return await work();
  } catch (error) {
    const isGone = codeOf(error) === 'ENOENT';
    if (!isGone) problems.push(problem('no-access', UNREADABLE, path));
    else if (path.includes('\ufffd')) problems.push(problem('odd-name', ODD_NAME, path));
    return null;
  }
}

export const codeOf = (error: unknown): string =>
  error instanceof Error && 'code' in error ? String(error.code) : '';

async function entriesOf(folder: string): Promise<Dirent[]> {
  const entries = await readdir(folder, { withFileTypes: true });
  return entries.sort((a, b) => (a.name < b.name ? -1 : 1));
}
