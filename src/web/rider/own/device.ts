/** A device that opened a rider's own page keeps it: by a cookie of its own, under an address without a token. */
import type { Context, MiddlewareHandler } from 'hono';
import { deleteCookie, getCookie } from 'hono/cookie';
import { HTTPException } from 'hono/http-exception';
import { DAY_MS } from '../../../units.js';
import { cookieName, keepCookie } from '../../signIn/cookies.js';
import type { WebEnv } from '../../viewer.js';

export const DEVICE_HOME = '/r/own';
const NAME = 'own';
/** As long as a link works; each opening begins it anew. */
const KEPT_DAYS = 60;

/** Returns where a part of the own page lies: behind a link's token, and for a device that keeps it. */
export const bothHomes = (below: string): string[] => [
  `/page/:token${below}`,
  ...(below === '' ? ['/own', '/own/'] : [`/own${below}`]),
];

/** Returns the token of an address, else that of the device; empty where there is neither. */
export const ownToken = (c: Context<WebEnv>): string =>
  c.req.param('token') ?? getCookie(c, cookieName(c, NAME)) ?? '';

export const keepOnDevice = (c: Context<WebEnv>, token: string): void =>
  keepCookie(c, NAME, token, { sameSite: 'Strict', ms: KEPT_DAYS * DAY_MS });

export function forgetOnDevice(c: Context<WebEnv>): void {
  deleteCookie(c, cookieName(c, NAME), { path: '/', secure: c.get('visit').isHttps });
  sayGone(c);
}

/** Has the worker of the page let go of all that it keeps on the device. */
export const sayGone = (c: Context<WebEnv>): void => c.header('own-page', 'gone');

/** A browser has workers and shared files for pages by HTTPS only, and for those of its own machine. */
export const mayBeKept = (c: Context<WebEnv>): boolean => c.get('visit').isHttps || c.get('visit').isHere;

/** A cookie comes along with any form, so that only those of our own pages are taken. */
export const ownFormsOfDevice =
  (publicUrl: string | null): MiddlewareHandler<WebEnv> =>
  async (c, next) => {
    // No page can make a browser say that its user alone began it, as sharing to an app does.
    const isShared = c.req.path === `${DEVICE_HOME}/share` && c.req.header('sec-fetch-site') === 'none';
    if (c.req.method !== 'GET' && c.req.method !== 'HEAD' && !isShared) {
      const origin = c.req.header('origin');
      const published = publicUrl === null ? null : new URL(publicUrl).origin;
      const isOwn = origin !== undefined && (origin === c.get('visit').origin || origin === published);
      if (!isOwn && c.req.header('sec-fetch-site') !== 'same-origin') throw new HTTPException(404);
    }
    await next();
  };
