import { lstat } from 'node:fs/promises';
import { join } from 'node:path';
import { ServiceError } from '../errors.js';
import { type Problem, problem } from '../problems.js';
import { listFiles } from '../reader.js';
import type { Output } from './output.js';
import { setStatus } from './status.js';

export type FoundFile =
  | { readonly path: string; readonly name: string }
  | { readonly name: string; readonly problem: Problem };

/** Yields the files at the paths of a command line, those in folders too; a path that is not there is told at once. */
export async function* filesAt(paths: readonly string[], out: Output): AsyncGenerator<FoundFile> {
  for (const path of paths) {
    const found = await orComplain(out, () => lookAt(path), path);
    if (found === 'file') yield { path, name: path };
    if (found !== 'folder') continue;
    const listed = await orComplain(out, () => listFiles(path), path);
    for (const file of listed?.files ?? []) yield { path: file.at, name: join(path, file.path) };
    for (const one of listed?.problems ?? []) {
      const name = join(path, one.source);
      yield { name, problem: problem(one.code, one.message, name) };
    }
  }
}

async function lookAt(path: string): Promise<'file' | 'folder'> {
  try {
    return (await lstat(path)).isDirectory() ? 'folder' : 'file';
  } catch (cause) {
    const isMissing =
      cause instanceof Error && 'code' in cause && ['ENOENT', 'ENOTDIR'].includes(String(cause.code));
    if (isMissing) throw new ServiceError('not-found', `There is no file ${path}.`);
    throw new ServiceError('disk-failed', `${path} cannot be read.`, { cause });
  }
}

/** One path or file that fails is told and holds up no other. */
export async function orComplain<T>(out: Output, work: () => Promise<T>, file?: string): Promise<T | null> {
  try {
    return await work();
  } catch (error) {
    if (!(error instanceof ServiceError) || !['disk-failed', 'not-found'].includes(error.code)) throw error;
    const { code, message, hint = null } = error;
    out.object({ ...(file !== undefined && { file }), error: { code, message, hint } });
    out.complain(hint === null ? message : `${message} ${hint}`);
    setStatus(error.code === 'not-found' ? 1 : 3);
    return null;
  }
}
