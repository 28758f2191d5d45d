import type { Context } from 'hono';
import { takeForm } from '../door/body.js';
import type { Fields } from '../taken.js';
import type { WebEnv } from '../viewer.js';

const LARGEST_FORM_BYTES = 8 * 1024;

/** Returns the fields of a small form. A mail program may send its one click as either type of form. Source: RFC 8058 3.2. */
export async function fieldsOf(c: Context<WebEnv>): Promise<Fields> {
  const type = c.req.header('content-type')?.split(';')[0]?.trim().toLowerCase();
  if (type !== 'application/x-www-form-urlencoded' && type !== 'multipart/form-data') return {};
  await takeForm(c, LARGEST_FORM_BYTES);
  const body = await c.req.parseBody();
  return Object.fromEntries(
    Object.entries(body).filter((entry): entry is [string, string] => typeof entry[1] === 'string'),
  );
}
