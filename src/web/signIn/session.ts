import { createHash, createHmac, randomBytes, timingSafeEqual } from 'node:crypto';
import type { Context } from 'hono';
import { deleteCookie, getCookie, setCookie } from 'hono/cookie';
import type { Account, Session } from '../../ports/accounts.js';
import type { Tx } from '../../ports/store.js';
import { DAY_MS, type Instant, instant, MINUTE_MS } from '../../units.js';

/** Twice the 128 bits that OWASP ASVS 5.0, 7.2.3 asks for. */
const TOKEN_BYTES = 32;
const SESSION_DAYS = 14;
/** A use is written down only so often, not with each page. */
const USE_WRITTEN_MS = 5 * MINUTE_MS;

const hashOf = (token: string): string => createHash('sha256').update(token).digest('hex');

/** Returns the secret of a new session, which only the browser keeps. */
export async function openSession(tx: Tx, accountId: string, now: Instant): Promise<string> {
  const token = randomBytes(TOKEN_BYTES).toString('base64url');
  const expiresAt = instant(now + SESSION_DAYS * DAY_MS);
  await tx.accounts.addSession({
    tokenHash: hashOf(token),
    accountId,
    createdAt: now,
    usedAt: now,
    expiresAt,
  });
  return token;
}

export interface Signed {
  readonly account: Account;
  readonly session: Session;
}

/** Returns a session that has neither expired nor rested for `restDays`, with its account. */
export async function findSigned(
  tx: Tx,
  token: string,
  now: Instant,
  restDays: number,
): Promise<Signed | undefined> {
  const session = await tx.accounts.findSession(hashOf(token));
  if (!session || session.expiresAt <= now || session.usedAt + restDays * DAY_MS <= now) return undefined;
  const account = await tx.accounts.find(session.accountId);
  return account && { account, session };
}

/** Returns whether this use of a session is to be written down; a clock that was set back counts as one. */
export const isUseToWrite = ({ usedAt }: Session, now: Instant): boolean =>
  Math.abs(now - usedAt) >= USE_WRITTEN_MS;

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
