import { randomBytes } from 'node:crypto';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

/** Returns the secret that signs links: the setting's, else one made once in the data folder, readable by its owner only. */
export function openSecret(dataFolder: string, set: string | null): Uint8Array {
  if (set !== null) return Buffer.from(set, 'utf8');
  const path = join(dataFolder, 'secret');
  try {
    return Buffer.from(readFileSync(path, 'utf8').trim(), 'hex');
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
  }
  mkdirSync(dataFolder, { recursive: true });
  const secret = randomBytes(32);
  writeFileSync(path, `${secret.toString('hex')}\n`, { mode: 0o600, flag: 'wx' });
  return secret;
}
