import type { FileContent } from '../ports/reader.js';
import { type Problem, problem } from '../problems.js';

/** A file, or one inside an archive (`archive.zip/inner.fit`), unpacked; or why it was not. */
export type FileMember =
  | { readonly name: string; readonly bytes: Uint8Array }
  | { readonly name: string; readonly problem: Problem };

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
