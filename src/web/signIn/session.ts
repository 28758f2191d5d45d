import { createHash, createHmac, randomBytes, timingSafeEqual } from 'node:crypto';
import type { Context } from 'hono';
import { deleteCookie, getCookie } from 'hono/cookie';
import { SESSION_DAYS, startSession, useSession } from '../../flow/sessions.js';
import type { Session } from '../../ports/accounts.js';
import type { Tx } from '../../ports/store.js';
import { DAY_MS, type Instant, MINUTE_MS } from '../../units.js';
import type { WebDeps } from '../deps.js';
import type { WebEnv } from '../viewer.js';
import { cookieName, keepCookie } from './cookies.js';

/** Twice the 128 bits that OWASP ASVS 5.0, 7.2.3 asks for. */
const TOKEN_BYTES = 32;
/** A use is written down only so often, not with each page. */
const USE_WRITTEN_MS = 5 * MINUTE_MS;

export const hashOf = (token: string): string => createHash('sha256').update(token).digest('hex');

/** Returns the secret of a new session, which only the browser keeps. */
export async function openSession(tx: Tx, accountId: string, now: Instant): Promise<string> {
  const token = randomBytes(TOKEN_BYTES).toString('base64url');
  await startSession(tx, accountId, hashOf(token), now);
  return token;
}

/** Returns whether this use of a session is to be written down; a clock that was set back counts as one. */
const isUseToWrite = ({ usedAt }: Session, now: Instant): boolean => Math.abs(now - usedAt) >= USE_WRITTEN_MS;

/** Writes down that a session is in use. A store that cannot be written now must not keep anybody from reading. */
export async function writeUse({ store, log }: WebDeps, session: Session, now: Instant): Promise<void> {
  if (!isUseToWrite(session, now)) return;
  try {
    await store.write((tx) => useSession(tx, session.tokenHash, now));
  } catch (error) {
    log.error({ error }, 'The use of a session could not be written down');
  }
}

/** Returns what stands in the forms of a session; another session's does not fit. */
export const formTokenOf = (secret: Uint8Array, token: string): string =>
  createHmac('sha256', secret).update(`form ${token}`).digest('base64url');

export const isFormToken = (expected: string, given: string): boolean => {
  const [a, b] = [Buffer.from(expected), Buffer.from(given)];
  return a.length === b.length && timingSafeEqual(a, b);
};

export const sessionTokenOf = (c: Context<WebEnv>): string | undefined =>
  getCookie(c, cookieName(c, 'session'));

/** `Lax`, so that a link in a mail opens the page signed in. */
export const keepSession = (c: Context<WebEnv>, token: string): void =>
  keepCookie(c, 'session', token, { sameSite: 'Lax', ms: SESSION_DAYS * DAY_MS });

export const dropSession = (c: Context<WebEnv>): void => {
  deleteCookie(c, cookieName(c, 'session'), { path: '/', secure: c.get('visit').isHttps });
};
