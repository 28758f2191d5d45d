import type { Context, MiddlewareHandler } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { HTTPException } from 'hono/http-exception';
import type { WebEnv } from '../viewer.js';
import type { Fields } from './riderPage.js';

const LARGEST_FORM_BYTES = 8 * 1024;

/** Refuses what is no small form; files come by a page of their own, which bounds them itself. */
export const smallForms: MiddlewareHandler = bodyLimit({
  maxSize: LARGEST_FORM_BYTES,
  onError: () => {
    throw new HTTPException(413);
  },
});

/** A mail program may send its one click as either type of form. Source: RFC 8058 3.2. */
export async function fieldsOf(c: Context<WebEnv>): Promise<Fields> {
  const type = c.req.header('content-type')?.split(';')[0]?.trim().toLowerCase();
  if (type !== 'application/x-www-form-urlencoded' && type !== 'multipart/form-data') return {};
  const body = await c.req.parseBody();
  return Object.fromEntries(
    Object.entries(body).filter((entry): entry is [string, string] => typeof entry[1] === 'string'),
  );
}
