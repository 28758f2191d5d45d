import type { FileContent } from '../ports/reader.js';
import { problem } from '../problems.js';

/** Returns the answer for a file that is sound but no recorded ride. */
export const noRide = (code: string, message: string, source: string): FileContent => ({
  problem: problem(code, message, source),
  outcome: 'no-ride',
});

/** Returns the answer for a file that cannot be read, or must not be. */
export const setAside = (code: string, message: string, source: string): FileContent => ({
  problem: problem(code, message, source),
  outcome: 'set-aside',
});

export const ENTITIES_MESSAGE =
  'The file defines or uses XML entities, which no ride file needs. Export it again.';

/** A day of samples each second is a few million bytes, as the wordiest GPX 35 million. Units: bytes. */
export const LARGEST_FILE_BYTES = 64 * 1024 * 1024;

export const tooLargeMessage = (largest: number): string =>
  `Larger than ${Math.floor(largest / (1024 * 1024))} MB, which no ride file is.`;
