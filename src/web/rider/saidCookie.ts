/** What became of a form, carried over the redirect that follows it, so that back and reload never send it again. */
import type { Context } from 'hono';
import { deleteCookie, getCookie } from 'hono/cookie';
import { MINUTE_MS } from '../../units.js';
import { cookieName, keepCookie } from '../signIn/cookies.js';
import type { Fields } from '../taken.js';
import type { WebEnv } from '../viewer.js';
import type { PageSaid } from './riderPage.js';

const NAME = 'said';
const KEPT_MS = 2 * MINUTE_MS;
/** A browser keeps no larger cookie. Source: RFC 6265 6.1. */
const LARGEST = 3000;

interface SaidThere {
  /** Of the page that says it. */
  readonly path: string;
  readonly text: string;
  readonly isFault: boolean;
  readonly onTo?: PageSaid['onTo'];
  /** What was typed into a form that could not be taken. */
  readonly sent?: Fields;
}

/** What became of a form, and what was typed into it where it could not be taken. */
export interface SaidBefore {
  readonly what: PageSaid;
  readonly sent: Fields;
}

/** Keeps it for the next page of that path; false where it is too long to be kept. */
export function keepSaid(c: Context<WebEnv>, path: string, what: PageSaid, sent: Fields = {}): boolean {
  const { text, isFault, onTo } = what;
  const kept: SaidThere = { path, text, isFault, ...(onTo ? { onTo } : {}), ...(isFault ? { sent } : {}) };
  const value = Buffer.from(JSON.stringify(kept)).toString('base64url');
  if (value.length > LARGEST) return false;
  keepCookie(c, NAME, value, { sameSite: 'Strict', ms: KEPT_MS });
  return true;
}

/** Returns what a page of that path has to say, once. */
export function takeSaid(c: Context<WebEnv>, path: string): SaidBefore | null {
  const value = getCookie(c, cookieName(c, NAME));
  if (value === undefined) return null;
  const kept = read(value);
  if (kept?.path !== path) return null;
  deleteCookie(c, cookieName(c, NAME), { path: '/', secure: c.get('visit').isHttps });
  const { text, isFault, onTo, sent = {} } = kept;
  return { what: { text, isFault, ...(onTo ? { onTo } : {}) }, sent };
}

/** A browser may bring anything; only what is of our form is said. */
function read(value: string): SaidThere | null {
  let kept: unknown;
  try {
    kept = JSON.parse(Buffer.from(value, 'base64url').toString('utf8'));
  } catch {
    return null;
  }
  const { path, text, isFault, onTo, sent } = (kept ?? {}) as { readonly [key in keyof SaidThere]?: unknown };
  if (typeof path !== 'string' || typeof text !== 'string') return null;
  const { href, label } = (onTo ?? {}) as { readonly href?: unknown; readonly label?: unknown };
  const isOwn = typeof href === 'string' && href.startsWith('/r/') && typeof label === 'string';
  return {
    ...{ path, text, isFault: isFault === true, sent: fieldsIn(sent) },
    ...(isOwn ? { onTo: { href, label } } : {}),
  };
}

const fieldsIn = (sent: unknown): Fields =>
  Object.fromEntries(
    Object.entries((sent ?? {}) as object).filter(
      (entry): entry is [string, string] => typeof entry[1] === 'string',
    ),
  );
