import { expect, test } from 'vitest';
import { ServiceError } from '../../src/errors.js';
import { hashPassword, nobodysHash, verifyPassword } from '../../src/web/password.js';

test('a password is known again by its hash, at the costs that OWASP asks for, and under a salt of its own', async () => {
  const stored = await hashPassword('correct wheel spanner');
  // OWASP Password Storage Cheat Sheet: scrypt N=2^17, r=8, p=1.
  expect(stored).toMatch(/^scrypt\$17\$8\$1\$[\w-]{22}\$[\w-]{43}$/);
  expect(stored).not.toContain('spanner');
  expect(await verifyPassword('correct wheel spanner', stored)).toBe(true);
  expect(await verifyPassword('correct wheel Spanner', stored)).toBe(false);
  expect(await hashPassword('correct wheel spanner')).not.toBe(stored);
});

test('the same letters typed on another keyboard are the same password', async () => {
  const composed = 'forquet\u00e3o n\u00famero';
  expect(await verifyPassword(composed.normalize('NFD'), await hashPassword(composed))).toBe(true);
});

// OWASP ASVS 5.0, 6.2.1 and 6.2.9: 8 characters at least, 64 must be allowed.
test.each([
  ['', false],
  ['sevench', false],
  ['eight ch', true],
  ['x'.repeat(64), true],
  ['x'.repeat(201), false],
])('a password of %j is taken or refused by its length', async (password, isTaken) => {
  const hashed = hashPassword(password);
  if (isTaken) expect(await hashed).toMatch(/^scrypt/);
  else await expect(hashed).rejects.toMatchObject({ code: 'refused' });
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
