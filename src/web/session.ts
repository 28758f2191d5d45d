import { createHash, createHmac, randomBytes, timingSafeEqual } from 'node:crypto';
import type { Context } from 'hono';
import { deleteCookie, getCookie, setCookie } from 'hono/cookie';
import type { Account, Tx } from '../ports.js';
import { DAY_MS, type Instant, instant } from '../units.js';

/** Twice the 128 bits that OWASP ASVS 5.0, 7.2.3 asks for. */
const TOKEN_BYTES = 32;
const SESSION_DAYS = 14;

const hashOf = (token: string): string => createHash('sha256').update(token).digest('hex');

/** Returns the secret of a new session, which only the browser keeps. */
export async function openSession(tx: Tx, accountId: string, now: Instant): Promise<string> {
  const token = randomBytes(TOKEN_BYTES).toString('base64url');
  const expiresAt = instant(now + SESSION_DAYS * DAY_MS);
  await tx.accounts.addSession({ tokenHash: hashOf(token), accountId, createdAt: now, expiresAt });
  return token;
}

/** Returns the account of a session that has not expired. */
export async function findSessionAccount(tx: Tx, token: string, now: Instant): Promise<Account | undefined> {
  const session = await tx.accounts.findSession(hashOf(token));
  if (!session || session.expiresAt <= now) return undefined;
  return tx.accounts.find(session.accountId);
}

export const closeSession = (tx: Tx, token: string): Promise<void> =>
  tx.accounts.removeSession(hashOf(token));

/** Returns what stands in the forms of a session; another session's does not fit. */
export const formTokenOf = (secret: Uint8Array, token: string): string =>
  createHmac('sha256', secret).update(`form ${token}`).digest('base64url');

export const isFormToken = (expected: string, given: string): boolean => {
  const [a, b] = [Buffer.from(expected), Buffer.from(given)];
  return a.length === b.length && timingSafeEqual(a, b);
};

/** The `__Host-` prefix binds a cookie to this host and to HTTPS, so it is for an HTTPS address only. */
const cookieName = (isHttps: boolean): string => (isHttps ? '__Host-session' : 'session');

export const sessionTokenOf = (c: Context, isHttps: boolean): string | undefined =>
  getCookie(c, cookieName(isHttps));

/** `Lax`, so that a link in a mail opens the page signed in. */
export const keepSession = (c: Context, token: string, isHttps: boolean): void =>
  setCookie(c, cookieName(isHttps), token, {
    path: '/',
    httpOnly: true,
    sameSite: 'Lax',
    secure: isHttps,
    maxAge: SESSION_DAYS * 86_400,
  });

export const dropSession = (c: Context, isHttps: boolean): void => {
  deleteCookie(c, cookieName(isHttps), { path: '/', secure: isHttps });
};
