import type { Readable } from 'node:stream';
import { crc32 } from 'node:zlib';
import * as yauzl from 'yauzl';
import { shownName } from '../../core/lines.js';
import type { FileMember } from '../../ports/reader.js';
import { problem } from '../../problems.js';
import { tooLargeMessage } from '../fileContent.js';
import { throwIfDiskFailed } from '../onDisk.js';
import { type ArchiveBudget, LimitReached, type Unpacked, unpacked } from './archiveLimits.js';
import { unsafeNameReason } from './unsafeName.js';

/** Names are decoded and judged here, and the file stays open until the last member is out. */
const OPTIONS: yauzl.Options = {
  lazyEntries: true,
  autoClose: false,
  decodeStrings: false,
  validateEntrySizes: true,
};

/** Names and remarks of 5 000 files; far more would fill the memory before anything is unpacked. */
const MOST_LISTED_BYTES = 8 * 1024 * 1024;
/** Without the name. Source: the ZIP file format, 4.3.7. */
const LOCAL_HEADER_BYTES = 30;

const UNIX = 3;
const TYPE_BITS = 0o170000;
const REGULAR_FILE = 0o100000;

/**
 * Yields the files in a zip, by path or in memory, without folders and hidden files.
 * Errors: LimitReached, before anything is unpacked where the archive's own list is enough to tell.
 */
export async function* zipMembers(
  from: string | Uint8Array,
  archiveName: string,
  budget: ArchiveBudget,
): AsyncGenerator<FileMember> {
  let zip: yauzl.ZipFile;
  try {
    zip = await (typeof from === 'string'
      ? yauzl.openPromise(from, OPTIONS)
      : yauzl.fromBufferPromise(
          Buffer.from(from.buffer as ArrayBuffer, from.byteOffset, from.length),
          OPTIONS,
        ));
  } catch (error) {
    throwIfDiskFailed(error);
    yield damagedArchive(archiveName);
    return;
  }
  try {
    const entries = await listEntries(zip, budget);
    if (entries === null) yield damagedArchive(archiveName);
    for (const entry of entries ?? []) yield* memberOf(zip, entry, archiveName, budget);
  } finally {
    zip.close();
  }
}

/** Returns how many entries a zip lists; of a damaged one that there is one thing to tell. */
export async function countMembers(path: string): Promise<number> {
  try {
    const zip = await yauzl.openPromise(path, OPTIONS);
    zip.close();
    return zip.entryCount;
  } catch (error) {
    throwIfDiskFailed(error);
    return 1;
  }
}

async function listEntries(zip: yauzl.ZipFile, budget: ArchiveBudget): Promise<yauzl.Entry[] | null> {
  budget.addFiles(zip.entryCount);
  const entries: yauzl.Entry[] = [];
  let [declared, listed] = [0, 0];
  try {
    for await (const entry of zip.eachEntry()) {
      entries.push(entry);
      declared += entry.uncompressedSize;
      listed += entry.fileNameLength + entry.extraFieldLength + entry.fileCommentLength;
      if (listed > MOST_LISTED_BYTES) throw new LimitReached('The list of its files is too long.');
    }
  } catch (error) {
    if (error instanceof LimitReached) throw error;
    throwIfDiskFailed(error);
    return null;
  }
  budget.expect(declared);
  if (hasOverlap(entries)) throw new LimitReached('Files in it lie over one another.');
  for (const entry of entries) budget.checkRatio(entry.uncompressedSize, entry.compressedSize);
  return entries;
}

/** Members that share their bytes unpack to many times what the archive is. */
function hasOverlap(entries: readonly yauzl.Entry[]): boolean {
  const inOrder = [...entries].sort((a, b) => a.relativeOffsetOfLocalHeader - b.relativeOffsetOfLocalHeader);
  return inOrder.some((entry, i) => {
    const next = inOrder[i + 1];
    const end = entry.relativeOffsetOfLocalHeader + LOCAL_HEADER_BYTES + entry.compressedSize;
    return next !== undefined && next.relativeOffsetOfLocalHeader < end;
  });
}

async function* memberOf(
  zip: yauzl.ZipFile,
  entry: yauzl.Entry,
  archiveName: string,
  budget: ArchiveBudget,
): AsyncGenerator<FileMember> {
  const name = yauzl.getFileNameLowLevel(
    entry.generalPurposeBitFlag,
    entry.fileNameRaw,
    entry.extraFields,
    true,
  );
  const shown = `${archiveName}/${shownName(name)}`;
  const unsafe = unsafeNameReason(name);
  if (unsafe === null && (name.endsWith('/') || isHidden(name))) return;
  const refused = unsafe === null ? refusal(entry, budget) : unsafePath(unsafe);
  if (refused !== null) {
    yield { name: shown, problem: problem(refused[0], refused[1], shown) };
    return;
  }
  const bytes = await contentOf(zip, entry, budget);
  if (bytes === 'too-large') {
    yield { name: shown, problem: problem('too-large', tooLargeMessage(budget.limits.memberBytes), shown) };
  } else if (bytes === 'damaged' || crc32(bytes) !== entry.crc32) {
    yield {
      name: shown,
      problem: problem('unreadable', 'It is damaged in the archive. Copy the archive again.', shown),
    };
  } else {
    yield { name: shown, bytes };
  }
}

/** What a file system or an archiver writes beside the files that somebody put there. */
const isHidden = (name: string): boolean => name.startsWith('__MACOSX/') || /(?:^|\/)\.[^/]*$/.test(name);

type MemberRefusal = readonly [code: string, message: string];

const unsafePath = (reason: string): MemberRefusal => [
  'unsafe-path',
  `${reason} Pack the ride files themselves.`,
];

function refusal(entry: yauzl.Entry, budget: ArchiveBudget): MemberRefusal | null {
  if (isLink(entry)) return ['link', 'It is a link or a device, not a file. Pack the ride files themselves.'];
  if (entry.isEncrypted()) return ['unreadable', 'It is locked with a password. Pack it without one.'];
  if (!entry.canDecodeFileData())
    return ['unreadable', 'It is packed in an unknown way. Pack it as a plain zip.'];
  if (entry.uncompressedSize > budget.limits.memberBytes) {
    return ['too-large', tooLargeMessage(budget.limits.memberBytes)];
  }
  return null;
}

/** A mode of 0 says nothing of the kind of file. */
function isLink(entry: yauzl.Entry): boolean {
  const type = (entry.externalFileAttributes >>> 16) & TYPE_BITS;
  return entry.versionMadeBy >> 8 === UNIX && type !== 0 && type !== REGULAR_FILE;
}

async function contentOf(zip: yauzl.ZipFile, entry: yauzl.Entry, budget: ArchiveBudget): Promise<Unpacked> {
  let stream: Readable;
  try {
    stream = await zip.openReadStreamPromise(entry);
  } catch (error) {
    throwIfDiskFailed(error);
    return 'damaged';
  }
  return unpacked(stream, entry.compressedSize, budget, entry.uncompressedSize);
}

const damagedArchive = (name: string): FileMember => ({
  name,
  problem: problem('unreadable', 'The archive is cut off or damaged. Copy or export it again.', name),
});
