/** Secrets: how they are compared, and how much chance is in them. */
import * as crypto from 'node:crypto';
import { beforeEach, expect, it, vi } from 'vitest';
import { sealWith } from '../../src/secret.js';
import { verifyPassword } from '../../src/web/signIn/password.js';
import { formTokenOf, isFormToken } from '../../src/web/signIn/session.js';
import { signedIn } from '../web/visitor.js';
import { cheapHash, webWorld } from '../web/webWorld.js';

vi.mock('node:crypto', async (original) => {
  const real = await original<typeof import('node:crypto')>();
  return {
    ...real,
    timingSafeEqual: vi.fn(real.timingSafeEqual),
    randomBytes: vi.fn(real.randomBytes),
  };
});

const compared = vi.mocked(crypto.timingSafeEqual);
const drawn = vi.mocked(crypto.randomBytes as (bytes: number) => Buffer);
beforeEach(() => {
  compared.mockClear();
  drawn.mockClear();
});

const SECRET = Buffer.alloc(32, 7);
const seal = sealWith(SECRET);
const mark = seal.mark('a');
const form = formTokenOf(SECRET, 'a');
const flipped = (text: string): string => (text.startsWith('0') ? '1' : '0') + text.slice(1);

const CHECKS: [string, (isRight: boolean) => boolean | Promise<boolean>][] = [
  ['the mark of a link', (isRight) => seal.fits('a', isRight ? mark : flipped(mark))],
  ['the token of a form', (isRight) => isFormToken(form, isRight ? form : flipped(form))],
  ['a password', (isRight) => verifyPassword(isRight ? 'right one' : 'wrong one', cheapHash('right one'))],
];

// OWASP ASVS 5.0, 11.2.4. A secret as long as the right one, right or wrong, is judged by the comparison alone.
it.each(CHECKS)('%s is compared in a time that does not tell how much of it is right', async (_, check) => {
  for (const isRight of [true, false]) {
    compared.mockClear();
    expect(await check(isRight)).toBe(isRight);
    expect(compared).toHaveBeenCalledTimes(1);
    compared.mockReturnValueOnce(!isRight);
    expect(await check(isRight)).toBe(!isRight);
  }
});

// OWASP ASVS 5.0, 11.5.1 and 7.2.3: at least 128 bits, from the generator made for secrets.
it('a session is at least 128 bits of chance, and they are what the cookie holds', async () => {
  const { app } = await webWorld();
  const { cookie } = await signedIn(app);
  const chance = drawn.mock.results.map(({ value }) => (value as Buffer).toString('base64url'));
  const token = /session=([\w-]+)/.exec(cookie)![1]!;
  expect(chance).toContain(token);
  expect(Buffer.from(token, 'base64url').length * 8).toBeGreaterThanOrEqual(128);
});
