import { randomBytes, type ScryptOptions, scrypt, timingSafeEqual } from 'node:crypto';
import { ServiceError } from '../../errors.js';
import { refuse } from '../../flow/refuse.js';
import { isCommonPassword } from './commonPasswords.js';

/** Source: OWASP Password Storage Cheat Sheet, scrypt N=2^17, r=8, p=1. */
const COST = { log2N: 17, r: 8, p: 1 } as const;
const SALT_BYTES = 16;
const HASH_BYTES = 32;
const SHORTEST_PASSWORD = 8;
/** Longer ones are refused, not cut: nobody types them and hashing them costs memory. */
export const LONGEST_PASSWORD = 200;
/** Guards against a damaged row that would ask for all the machine's memory. */
const HIGHEST_LOG2N = 20;

const ENCODED = /^scrypt\$(\d{1,2})\$(\d{1,2})\$(\d{1,2})\$([\w-]+)\$([\w-]+)$/;

function derive(password: string, salt: Uint8Array, bytes: number, options: ScryptOptions): Promise<Buffer> {
  return new Promise((resolve, reject) => {
    scrypt(password.normalize('NFKC'), salt, bytes, options, (error, key) =>
      error ? reject(error) : resolve(key),
    );
  });
}

/** Node refuses these costs unless its memory limit, 32 MiB, is raised above 128 × N × r bytes. */
const optionsOf = (log2N: number, r: number, p: number): ScryptOptions => ({
  N: 2 ** log2N,
  r,
  p,
  maxmem: 2 * 128 * 2 ** log2N * r,
});

/**
 * Returns the password as it is stored: the costs, a fresh salt and the hash. `names` are those that whoever guesses
 * knows: the account's and the workshop's.
 * Errors: `refused` when it is too short, too long, one of the commonest, or only such a name.
 */
export async function hashPassword(password: string, names: readonly string[]): Promise<string> {
  const { length } = [...password];
  if (length < SHORTEST_PASSWORD || length > LONGEST_PASSWORD)
    refuse('password-length', { least: SHORTEST_PASSWORD, most: LONGEST_PASSWORD, length });
  if (isCommonPassword(password)) refuse('password-common');
  if (isOnlyNames(password, names)) refuse('password-names');
  const salt = randomBytes(SALT_BYTES);
  return encoded(salt, await derive(password, salt, HASH_BYTES, optionsOf(COST.log2N, COST.r, COST.p)));
}

const lettersOf = (text: string): string =>
  text
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[^\p{L}\p{M}]/gu, '');

/** Returns whether nothing but digits and signs is left once the names, and the words of names, are taken out. */
function isOnlyNames(password: string, names: readonly string[]): boolean {
  const words = [
    'stanchion',
    ...names.flatMap((name) => [lettersOf(name), ...name.split(/\s+/).map(lettersOf)]),
  ]
    .filter((word) => word !== '')
    .sort((a, b) => b.length - a.length);
  const letters = lettersOf(password);
  return letters !== '' && words.reduce((left, word) => left.replaceAll(word, ''), letters) === '';
}

const encoded = (salt: Buffer, hash: Buffer): string =>
  ['scrypt', COST.log2N, COST.r, COST.p, salt.toString('base64url'), hash.toString('base64url')].join('$');

/** Returns a stored password that nobody has: checking against it takes as long as against a real one. */
export const nobodysHash = (): string => encoded(randomBytes(SALT_BYTES), randomBytes(HASH_BYTES));

/** Returns whether the password is the stored one, in a time that does not tell how near it is. */
export async function verifyPassword(password: string, stored: string): Promise<boolean> {
  const [, log2N, r, p, salt, hash] = ENCODED.exec(stored) ?? [];
  if (hash === undefined || Number(log2N) > HIGHEST_LOG2N) {
    throw new ServiceError('store-failed', 'The stored password of this account cannot be read.', {
      permanent: true,
    });
  }
  const expected = Buffer.from(hash, 'base64url');
  const options = optionsOf(Number(log2N), Number(r), Number(p));
  const given = await derive(password, Buffer.from(salt!, 'base64url'), expected.length, options);
  return timingSafeEqual(given, expected);
}
