/** Why a file cannot be read or written, as the person can mend it who runs the program. */
import { accessSync, constants, existsSync, statfsSync, statSync } from 'node:fs';
import { dirname, resolve } from 'node:path';

export interface WhyNot {
  readonly message: string;
  readonly hint: string;
}

/** What even an empty database needs. Units: bytes. */
const LEAST = 1 << 20;
/** Source: sqlite.org/rescode.html; errno(3). */
const FULL = ['SQLITE_FULL', 'ENOSPC', 'EDQUOT'];
const RUN_AS = 'Run as the user who owns it. As a service: with the same User= as the service.';

/** Returns what is seen to be in the way at a path, after work there failed; null where that is something else. */
export function whyNot(path: string, error: unknown): WhyNot | null {
  const asked = dirname(resolve(path));
  // Where a folder could not be made either, what it would be in tells why.
  let folder = asked;
  while (faultOf(() => statSync(folder)) === 'ENOENT') folder = dirname(folder);
  const at = faultOf(() => statSync(folder));
  if (at === 'EACCES') return { message: `You may not read ${dirname(folder)}.`, hint: RUN_AS };
  const { R_OK, W_OK, X_OK } = constants;
  for (const [what, how] of [
    [folder, R_OK | W_OK | X_OK],
    [path, R_OK | W_OK],
  ] as const) {
    const fault = what === path && !existsSync(path) ? null : faultOf(() => accessSync(what, how));
    if (fault === 'EROFS')
      return {
        message: `The disk of ${folder} can only be read.`,
        hint: 'Mount it so that it can be written. If it became so by itself it may fail: first copy elsewhere what matters.',
      };
    if (fault !== null) return { message: `You may not read and write ${what}.`, hint: RUN_AS };
  }
  const isFull = FULL.includes(codeOf(error));
  if (folder !== asked && !isFull)
    return { message: `There is no folder ${asked}.`, hint: 'Make it, or name another.' };
  const { bavail, bsize } = statfsSync(folder);
  if (!isFull && bavail * bsize >= LEAST) return null;
  return {
    message: `The disk of ${folder} is full.`,
    hint: 'Make room on it, and try again. Nothing that was taken is lost.',
  };
}

const codeOf = (error: unknown): string =>
  error instanceof Error && 'code' in error ? String(error.code) : '';

function faultOf(look: () => unknown): string | null {
  try {
    look();
    return null;
  } catch (error) {
    return codeOf(error);
  }
}
