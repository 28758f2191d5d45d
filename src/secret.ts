import { createHmac, randomBytes, timingSafeEqual } from 'node:crypto';
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

/** Source: RFC 2104 and FIPS 180-4; RFC 4231 has test vectors. */
export const hmacSha256 = (key: Uint8Array, text: string | Uint8Array): Buffer =>
  createHmac('sha256', key).update(text).digest();

/** Half of the hash, the least that RFC 2104 section 5 allows. */
const MARK_BYTES = 16;

/** Returns what signs links: 128 bits of an HMAC-SHA-256, in hex. */
export function sealWith(secret: Uint8Array) {
  const mark = (text: string): string => hmacSha256(secret, text).subarray(0, MARK_BYTES).toString('hex');
  return {
    mark,
    fits: (text: string, given: string): boolean => {
      const [expected, got] = [Buffer.from(mark(text)), Buffer.from(given)];
      return expected.length === got.length && timingSafeEqual(expected, got);
    },
  };
}
