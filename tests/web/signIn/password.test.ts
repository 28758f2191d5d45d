import { expect, test } from 'vitest';
import { ServiceError } from '../../../src/errors.js';
import { isCommonPassword } from '../../../src/web/signIn/commonPasswords.js';
import { hashPassword, nobodysHash, verifyPassword } from '../../../src/web/signIn/password.js';
import { inWords } from '../../fixtures/inWords.js';

test('a password is known again by its hash, at the costs that OWASP asks for, and under a salt of its own', async () => {
  const stored = await hashPassword('correct wheel spanner', []);
  // OWASP Password Storage Cheat Sheet: scrypt N=2^17, r=8, p=1.
  expect(stored).toMatch(/^scrypt\$17\$8\$1\$[\w-]{22}\$[\w-]{43}$/);
  expect(stored).not.toContain('spanner');
  expect(await verifyPassword('correct wheel spanner', stored)).toBe(true);
  expect(await verifyPassword('correct wheel Spanner', stored)).toBe(false);
  expect(await hashPassword('correct wheel spanner', [])).not.toBe(stored);
});

test('the same letters typed on another keyboard are the same password', async () => {
  const composed = 'forquet\u00e3o n\u00famero';
  expect(await verifyPassword(composed.normalize('NFD'), await hashPassword(composed, []))).toBe(true);
});

// OWASP ASVS 5.0, 6.2.1 and 6.2.9: 8 characters at least, 64 must be allowed.
test.each([
  ['', false],
  ['sevench', false],
  ['eight ch', true],
  ['x'.repeat(64), true],
  ['x'.repeat(201), false],
])('a password of %j is taken or refused by its length', async (password, isTaken) => {
  const hashed = hashPassword(password, []);
  if (isTaken) expect(await hashed).toMatch(/^scrypt/);
  else await expect(hashed).rejects.toMatchObject({ code: 'refused' });
});

// OWASP ASVS 5.0, 6.2.4: none of the 3000 commonest. From memory: the first four stand high on published lists. The
// last three are about the 1000th, 3000th and 10 000th that are long enough in @zxcvbn-ts/language-common 3.0.4.
test.each(['password', 'PassWord', '12345678', 'iloveyou', 'whatever', 'blackbir', '13101988', 'dalmatio'])(
  'the common password %j is refused',
  async (password) => {
    await expect(inWords(hashPassword(password, []))).rejects.toMatchObject({
      code: 'refused',
      message: expect.stringContaining('among the most common'),
    });
  },
);

test('no invented password of many is taken for a common one', () => {
  const invented = Array.from({ length: 20_000 }, (_, i) => `bolt ${i} wheel ${i * 7919}`);
  expect(invented.filter(isCommonPassword)).toEqual([]);
});

// OWASP ASVS 5.0, 6.2.11, from memory: words of the place are refused as passwords.
test.each([
  ['Stanchion', false],
  ['stanchion-2026!', false],
  ['anna-maria99', false],
  ['tumbledown1', false],
  ['Tumbledown Suspension Bench', false],
  ['BenchStanchion', false],
  ['tumbledown spanner', true],
  ['8046127359', true],
])('%j as a password of anna-maria at the Tumbledown Suspension Bench: %j', async (password, isTaken) => {
  const hashed = hashPassword(password, ['anna-maria', 'Tumbledown Suspension Bench']);
  if (isTaken) expect(await hashed).toMatch(/^scrypt/);
  else
    await expect(inWords(hashed)).rejects.toMatchObject({
      code: 'refused',
      message: expect.stringContaining('only a name'),
    });
});

test("nobody's hash fits no password, and costs as much to check as a real one", async () => {
  expect(nobodysHash()).toMatch(/^scrypt\$17\$8\$1\$[\w-]{22}\$[\w-]{43}$/);
  expect(await verifyPassword('', nobodysHash())).toBe(false);
});

test.each(['', 'plain text', 'scrypt$30$8$1$AAAA$AAAA', 'bcrypt$10$8$1$AAAA$AAAA'])(
  'a stored password %j is reported as broken and not taken for a wrong one',
  async (stored) => {
    await expect(verifyPassword('x', stored)).rejects.toThrow(ServiceError);
  },
);
