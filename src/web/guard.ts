import type { Context, MiddlewareHandler } from 'hono';
import { csrf } from 'hono/csrf';
import { HTTPException } from 'hono/http-exception';
import { secureHeaders } from 'hono/secure-headers';
import { takeForm } from './door/body.js';
import type { WebEnv } from './viewer.js';

const LARGEST_FORM_BYTES = 64 * 1024;
const FORM_TYPE = 'application/x-www-form-urlencoded';
/** Forms of the workshop that carry files, which are read as they come, by the page itself. */
const CARRIES_FILES = /^\/(units\/[^/]+\/photos|ways\/files)$/;
const FILES_TYPE = 'multipart/form-data';
const isSafe = (method: string): boolean => method === 'GET' || method === 'HEAD';

/**
 * The pages on which a rider sends files, ticks climbs and logs a job at home work without a script, and better with their own. A device that
 * keeps the page has a worker, which asks for its pages anew.
 */
const isOwn = (c: Context, pages: string): boolean =>
  new RegExp(`^/r/(page/[^/]+/(${pages})$|own(/|$))`).test(c.req.path);
const ownWorker = (c: Context): string => (/^\/r\/own(\/|$)/.test(c.req.path) ? "'self'" : "'none'");
/** A photograph is sent without leaving the page on which somebody types. */
const anyFetch = (c: Context): string =>
  /^\/(units\/|bench$)/.test(c.req.path) || isOwn(c, 'files') ? "'self'" : "'none'";
/** The workshop's pages have the key that leads to the field which finds anything. */
const anyScript = (c: Context): string =>
  isOwn(c, 'files|rides|units/[^/]+/[^/]+/home') || !c.req.path.startsWith('/r/') ? "'self'" : "'none'";

const headersWith = (strictTransportSecurity: string | false): MiddlewareHandler =>
  secureHeaders({
    contentSecurityPolicy: {
      defaultSrc: ["'none'"],
      styleSrc: ["'self'"],
      scriptSrc: [anyScript],
      connectSrc: [anyFetch],
      workerSrc: [ownWorker],
      imgSrc: ["'self'"],
      manifestSrc: ["'self'"],
      formAction: ["'self'"],
      frameAncestors: ["'none'"],
      baseUri: ["'none'"],
    },
    xFrameOptions: 'DENY',
    referrerPolicy: 'no-referrer',
    strictTransportSecurity,
  });

const [BY_HTTPS, OTHERWISE] = [headersWith('max-age=15552000'), headersWith(false)];

/** Nothing is run, embedded or fetched but this host's own style and pictures; no page may frame these. */
export const strictHeaders: MiddlewareHandler<WebEnv> = (c, next) =>
  (c.get('visit').isHttps ? BY_HTTPS : OTHERWISE)(c, next);

/** Pages hold what riders do; no cache on the way may keep them. */
export const neverCached: MiddlewareHandler = async (c, next) => {
  await next();
  if (!c.res.headers.has('cache-control')) c.header('cache-control', 'no-store');
};

/** The origin check below looks at forms only, so nothing else may change anything. */
const formsOnly: MiddlewareHandler = async (c, next) => {
  const isForm = c.req.method === 'POST' && (typeOf(c) === FORM_TYPE || carriesFiles(c));
  if (!isSafe(c.req.method) && !isForm) throw new HTTPException(403);
  await next();
};

const typeOf = (c: Context): string | undefined =>
  c.req.header('content-type')?.split(';')[0]?.trim().toLowerCase();

/** Whether a form comes with files, where that is expected; the page checks its token when it has read it. */
export const carriesFiles = (c: Context): boolean =>
  c.req.method === 'POST' && typeOf(c) === FILES_TYPE && CARRIES_FILES.test(c.req.path);

const ownOrigin = (publicUrl: string | null): MiddlewareHandler<WebEnv> => {
  const published = publicUrl === null ? null : new URL(publicUrl).origin;
  return csrf({
    origin: (origin: string, c: Context<WebEnv>) => origin === published || origin === c.get('visit').origin,
  });
};

/** Refuses what is no form of this site's own, before a byte of it is read. */
export const ownFormsOnly = (publicUrl: string | null): MiddlewareHandler<WebEnv>[] => [
  formsOnly,
  ownOrigin(publicUrl),
];

/** Reads a form, once it is known who sends it. */
export const takeSmallForm = (c: Context): Promise<void> => takeForm(c, LARGEST_FORM_BYTES);

/** Returns a form's fields; a field sent twice counts once, by its last value, and a file is no field. */
export async function fieldsOf(c: Context<WebEnv>): Promise<Readonly<Record<string, string>>> {
  const body = await c.req.parseBody();
  return Object.fromEntries(
    Object.entries(body).filter((entry): entry is [string, string] => typeof entry[1] === 'string'),
  );
}

/** Returns all values of a field that may come more than once: boxes that are ticked. */
export async function valuesOf(c: Context<WebEnv>, name: string): Promise<string[]> {
  const value = (await c.req.parseBody({ all: true }))[name];
  return [value].flat().filter((one) => typeof one === 'string');
}
