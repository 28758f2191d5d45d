import { createHmac, timingSafeEqual } from 'node:crypto';
import { join } from 'node:path';
import { ServiceError } from './errors.js';
import { keptOnce } from './keptOnce.js';

const SECRET_BYTES = 32;

/**
 * Returns the secret that signs links: the setting's, else one made once in the data folder, readable by its owner
 * only. Errors: `disk-failed` where what is kept there is no secret.
 */
export function openSecret(dataFolder: string, set: string | null): Uint8Array {
  if (set !== null) return Buffer.from(set, 'utf8');
  const path = join(dataFolder, 'secret');
  const secret = Buffer.from(keptOnce(path, SECRET_BYTES), 'hex');
  if (secret.length === SECRET_BYTES) return secret;
  throw new ServiceError('disk-failed', `The file ${path} is damaged.`, {
    hint: 'Put a copy of it back (backups of the ledger do not hold it), or remove it: another is made, and links sent until now no longer work.',
  });
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
