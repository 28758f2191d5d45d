import type { FileContent } from '../ports.js';
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
