import { scryptSync } from 'node:crypto';
import { expect, test } from 'vitest';
import { verifyPassword } from '../../src/web/signIn/password.js';

// RFC 7914, section 12: test vectors for scrypt. The first two are stored the way accounts are.
const VECTORS = [
  {
    password: 'password',
    salt: 'NaCl',
    costs: [10, 8, 16],
    hex: 'fdbabe1c9d3472007856e7190d01e9fe7c6ad7cbc8237830e77376634b3731622eaf30d92e22a3886ff109279d9830dac727afb94a83ee6d8360cbdfa2cc0640',
  },
  {
    password: 'pleaseletmein',
    salt: 'SodiumChloride',
    costs: [14, 8, 1],
    hex: '7023bdcb3afd7348461c06cd81fd38ebfda8fbba904f8e3ea9b543f6545da1f2d5432955613f0fcf62d49705242a9af9e61e85dc0d651e40dfcf017b45575887',
  },
] as const;

const stored = ({ salt, costs, hex }: (typeof VECTORS)[number]): string =>
  [
    'scrypt',
    ...costs,
    Buffer.from(salt).toString('base64url'),
    Buffer.from(hex, 'hex').toString('base64url'),
  ].join('$');

test.each(VECTORS)('the password of RFC 7914 "$password" is known by its published hash', async (vector) => {
  const [log2N, r, p] = vector.costs;
  const options = { N: 2 ** log2N, r, p, maxmem: 64 * 2 ** 20 };
  expect(scryptSync(vector.password, vector.salt, 64, options).toString('hex')).toBe(vector.hex);
  expect(await verifyPassword(vector.password, stored(vector))).toBe(true);
  expect(await verifyPassword(`${vector.password}.`, stored(vector))).toBe(false);
});
