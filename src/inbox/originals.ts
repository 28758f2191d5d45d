import { createHash } from 'node:crypto';
import { access } from 'node:fs/promises';
import { join } from 'node:path';
import type { Originals } from '../ports.js';
import { writeDurably } from './writeDurably.js';

/** Returns a store of files by the SHA-256 of their content, in a folder a first byte. */
export const originalsIn = (folder: string): Originals => ({
  keep: async (bytes) => {
    const sha256 = createHash('sha256').update(bytes).digest('hex');
    const path = join(folder, sha256.slice(0, 2), sha256);
    if (!(await exists(path))) await writeDurably(path, bytes);
    return sha256;
  },
});

const exists = (path: string): Promise<boolean> =>
  access(path).then(
    () => true,
    () => false,
  );
