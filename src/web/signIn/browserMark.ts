/** The mark of a browser that signed in before: what others try from its place, or with its name, is none of its tries. */
import { createHmac, randomBytes, timingSafeEqual } from 'node:crypto';
import type { Context } from 'hono';
import { getCookie } from 'hono/cookie';
import { DAY_MS } from '../../units.js';
import type { WebEnv } from '../viewer.js';
import { cookieName, keepCookie } from './cookies.js';

const KEPT_DAYS = 180;
const ID_BYTES = 16;

const sign = (secret: Uint8Array, text: string): Buffer => createHmac('sha256', secret).update(text).digest();

/** An account has its own on a computer that several use; its name tells nobody which account that is. */
const nameOf = (secret: Uint8Array, accountId: string): string =>
  `browser-${sign(secret, `browser ${accountId}`).toString('hex').slice(0, 8)}`;

const markOf = (secret: Uint8Array, accountId: string, id: string): string =>
  sign(secret, `browser ${accountId} ${id}`).toString('base64url');

/** Returns which browser this is, where it signed in to that account before; else null. */
export function browserOf(c: Context<WebEnv>, secret: Uint8Array, accountId: string): string | null {
  const kept = getCookie(c, cookieName(c, nameOf(secret, accountId)));
  const [id = '', mark = ''] = kept?.split('.') ?? [];
  const [given, right] = [Buffer.from(mark), Buffer.from(markOf(secret, accountId, id))];
  return given.length === right.length && timingSafeEqual(given, right) ? id : null;
}

/** Leaves the mark in a browser that signed in; one that has it keeps its own. */
export function markBrowser(c: Context<WebEnv>, secret: Uint8Array, accountId: string): void {
  const id = browserOf(c, secret, accountId) ?? randomBytes(ID_BYTES).toString('base64url');
  const mark = markOf(secret, accountId, id);
  keepCookie(c, nameOf(secret, accountId), `${id}.${mark}`, { sameSite: 'Strict', ms: KEPT_DAYS * DAY_MS });
}
