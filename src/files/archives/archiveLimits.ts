import type { Readable } from 'node:stream';
import { LARGEST_FILE_BYTES } from '../fileContent.js';
import { throwIfDiskFailed } from '../onDisk.js';

/** How far an archive is opened. Units: bytes; ratio is unpacked over packed. */
export interface ArchiveLimits {
  readonly files: number;
  readonly totalBytes: number;
  readonly ratio: number;
  readonly memberBytes: number;
}

export const ARCHIVE_LIMITS: ArchiveLimits = {
  files: 5000,
  totalBytes: 2_000_000_000,
  ratio: 200,
  memberBytes: LARGEST_FILE_BYTES,
};

/** So little is no bomb at any ratio. */
const HARMLESS_BYTES = 1024 * 1024;

/** Thrown and caught in this folder alone: nothing more of the archive is opened. */
export class LimitReached extends Error {}

/** What has been unpacked so far, of one file as it was handed over, archives inside it included. */
export class ArchiveBudget {
  readonly limits: ArchiveLimits;
  #files = 0;
  #bytes = 0;

  constructor(limits: ArchiveLimits) {
    this.limits = limits;
  }

  addFiles(count: number): void {
    this.#files += count;
    if (this.#files > this.limits.files)
      throw new LimitReached(`It holds more than ${this.limits.files} files.`);
  }

  /** Says no before anything is unpacked, by the sizes that an archive declares. */
  expect(bytes: number): void {
    if (this.#bytes + bytes > this.limits.totalBytes)
      throw new LimitReached('It unpacks to more than is allowed.');
  }

  addBytes(bytes: number): void {
    this.expect(bytes);
    this.#bytes += bytes;
  }

  checkRatio(unpacked: number, packed: number): void {
    if (unpacked > HARMLESS_BYTES && unpacked > packed * this.limits.ratio) {
      throw new LimitReached(`It unpacks to more than ${this.limits.ratio} times its size.`);
    }
  }
}

export type Unpacked = Uint8Array | 'too-large' | 'damaged';

/**
 * Returns what a stream unpacks to, stopping as soon as a limit is reached.
 * Errors: LimitReached; ServiceError `disk-failed` where the disk and not the archive is at fault.
 */
export async function unpacked(
  stream: Readable,
  packed: number,
  budget: ArchiveBudget,
  declared: number | null = null,
): Promise<Unpacked> {
  // Whose size is known is unpacked in place: joining pieces would hold it twice.
  const whole = declared === null ? null : Buffer.allocUnsafeSlow(declared);
  const pieces: Uint8Array[] = [];
  let size = 0;
  try {
    for await (const piece of stream as AsyncIterable<Uint8Array>) {
      size += piece.length;
      budget.addBytes(piece.length);
      budget.checkRatio(size, packed);
      if (size > budget.limits.memberBytes) return 'too-large';
      if (whole === null) pieces.push(piece);
      else if (size > whole.length) return 'damaged';
      else whole.set(piece, size - piece.length);
    }
  } catch (error) {
    if (error instanceof LimitReached) throw error;
    throwIfDiskFailed(error);
    return 'damaged';
  }
  return whole === null ? Buffer.concat(pieces, size) : whole.subarray(0, size);
}
