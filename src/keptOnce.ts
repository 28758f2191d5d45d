import { randomBytes } from 'node:crypto';
import { existsSync, linkSync, mkdirSync, readFileSync, unlinkSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';

/**
 * Returns what a file holds, made with random bytes in hex where there is none, readable by its owner only. Of several
 * processes that start at once one makes it: it comes under its name whole, or not at all.
 */
export function keptOnce(path: string, bytes: number): string {
  if (!existsSync(path)) make(path, bytes);
  return readFileSync(path, 'utf8').trim();
}

function make(path: string, bytes: number): void {
  mkdirSync(dirname(path), { recursive: true });
  const draft = `${path}.${randomBytes(8).toString('hex')}`;
  writeFileSync(draft, `${randomBytes(bytes).toString('hex')}\n`, { mode: 0o600, flag: 'wx' });
  try {
    linkSync(draft, path);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
  } finally {
    unlinkSync(draft);
  }
}
