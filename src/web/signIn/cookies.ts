import type { Context } from 'hono';
import { setCookie } from 'hono/cookie';
import { secondsIn } from '../../units.js';
import type { WebEnv } from '../viewer.js';

/** The `__Host-` prefix binds a cookie to this host and to HTTPS, so it is for an HTTPS address only. */
export const cookieName = (c: Context<WebEnv>, name: string): string =>
  c.get('visit').isHttps ? `__Host-${name}` : name;

/** Keeps something in the browser that no script can read. */
export const keepCookie = (
  c: Context<WebEnv>,
  name: string,
  value: string,
  { sameSite, ms }: { readonly sameSite: 'Lax' | 'Strict'; readonly ms: number },
): void =>
  setCookie(c, cookieName(c, name), value, {
    path: '/',
    httpOnly: true,
    sameSite,
    secure: c.get('visit').isHttps,
    maxAge: secondsIn(ms),
  });
