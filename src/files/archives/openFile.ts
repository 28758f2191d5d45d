import { createReadStream } from 'node:fs';
import { lstat, open, readFile } from 'node:fs/promises';
import { Readable } from 'node:stream';
import { createGunzip } from 'node:zlib';
import type { FileMember } from '../../ports/reader.js';
import { problem } from '../../problems.js';
import { tooLargeMessage } from '../fileContent.js';
import { onDisk } from '../onDisk.js';
import { type Format, formatOf } from '../sniff.js';
import {
  ARCHIVE_LIMITS,
  ArchiveBudget,
  type ArchiveLimits,
  LimitReached,
  type Unpacked,
  unpacked,
} from './archiveLimits.js';

/** What opens a zip is loaded with the first one. */
const zips = () => import('./zipMembers.js');

/** An archive, and an archive inside one; what lies deeper is handed on as it is. */
const DEEPEST = 2;

/**
 * Yields the file at a path, or the files in it where it is an archive, one at a time.
 * Errors: ServiceError `disk-failed`.
 */
export async function* openFile(
  path: string,
  name: string,
  limits: ArchiveLimits = ARCHIVE_LIMITS,
): AsyncGenerator<FileMember> {
  const budget = new ArchiveBudget(limits);
  yield* withinLimits(name, membersOfPath(path, name, budget));
}

/**
 * Returns how many files lie at a path, as a zip's own list says before anything is unpacked.
 * Errors: ServiceError `disk-failed`.
 */
export async function countFiles(path: string): Promise<number> {
  const stats = await onDisk(() => lstat(path));
  const isZip = stats.isFile() && (await onDisk(() => formatAt(path))) === 'zip';
  return isZip ? (await zips()).countMembers(path) : 1;
}

async function* withinLimits(name: string, members: AsyncGenerator<FileMember>): AsyncGenerator<FileMember> {
  try {
    yield* members;
  } catch (error) {
    if (!(error instanceof LimitReached)) throw error;
    yield {
      name,
      problem: problem('archive-limits', `${error.message} Unpack it and hand over fewer files.`, name),
    };
  }
}

async function* membersOfPath(path: string, name: string, budget: ArchiveBudget): AsyncGenerator<FileMember> {
  const stats = await onDisk(() => lstat(path));
  // A pipe would be waited on for ever.
  if (!stats.isFile() && !stats.isDirectory()) {
    yield {
      name,
      problem: problem('link', 'It is a link or a device, not a file. Hand over the ride file itself.', name),
    };
    return;
  }
  const format = await onDisk(() => formatAt(path));
  if (format === 'zip') {
    const { zipMembers } = await zips();
    for await (const member of zipMembers(path, name, budget)) yield* opened(member, 1, budget);
  } else if (format === 'gzip') {
    const content = await unzip(createReadStream(path), stats.size, budget);
    yield* opened(gunzipped(name, content, budget), 1, budget);
  } else if (stats.size > budget.limits.memberBytes) {
    yield tooLarge(name, budget);
  } else {
    yield { name, bytes: await onDisk(() => readFile(path)) };
  }
}

async function* membersOf(
  bytes: Uint8Array,
  name: string,
  level: number,
  budget: ArchiveBudget,
): AsyncGenerator<FileMember> {
  const format = level < DEEPEST ? formatOf(bytes.subarray(0, 4)) : 'other';
  if (format === 'zip') {
    const { zipMembers } = await zips();
    for await (const member of zipMembers(bytes, name, budget)) yield* opened(member, level + 1, budget);
  } else if (format === 'gzip') {
    const content = await unzip(Readable.from([bytes]), bytes.length, budget);
    yield* opened(gunzipped(name, content, budget), level + 1, budget);
  } else {
    yield { name, bytes };
  }
}

async function* opened(member: FileMember, level: number, budget: ArchiveBudget): AsyncGenerator<FileMember> {
  if ('problem' in member) yield member;
  else yield* membersOf(member.bytes, member.name, level, budget);
}

function unzip(packed: Readable, size: number, budget: ArchiveBudget): Promise<Unpacked> {
  const gunzip = createGunzip();
  packed.on('error', (error) => gunzip.destroy(error));
  gunzip.on('close', () => packed.destroy());
  return unpacked(packed.pipe(gunzip), size, budget);
}

/** A gzip holds one file, which goes by the name of the whole. */
function gunzipped(name: string, content: Unpacked, budget: ArchiveBudget): FileMember {
  if (content === 'too-large') return tooLarge(name, budget);
  if (content !== 'damaged') return { name, bytes: content };
  return {
    name,
    problem: problem('unreadable', 'The archive is cut off or damaged. Copy or export it again.', name),
  };
}

const tooLarge = (name: string, budget: ArchiveBudget): FileMember => ({
  name,
  problem: problem('too-large', tooLargeMessage(budget.limits.memberBytes), name),
});

async function formatAt(path: string): Promise<Format> {
  const file = await open(path);
  try {
    const head = new Uint8Array(4);
    const { bytesRead } = await file.read(head, 0, head.length, 0);
    return formatOf(head.subarray(0, bytesRead));
  } finally {
    await file.close();
  }
}
