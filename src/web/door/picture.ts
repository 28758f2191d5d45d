import type { Context } from 'hono';
import { HTTPException } from 'hono/http-exception';
import type { PhotoDeps } from '../deps.js';

/** Returns a kept picture as an answer. Errors: HTTPException 404 where its file is gone. */
export async function pictureOf(
  c: Context,
  { files }: Pick<PhotoDeps, 'files'>,
  sha256: string,
): Promise<Response> {
  const headers = {
    'content-type': 'image/jpeg',
    'content-disposition': 'inline; filename="photograph.jpg"',
    'cache-control': 'private, no-cache',
    etag: `"${sha256}"`,
  };
  if (c.req.header('if-none-match') === headers.etag) return c.body(null, 304, headers);
  const bytes = await files.read(sha256);
  if (bytes === null) throw new HTTPException(404);
  return c.body(new Uint8Array(bytes), 200, headers);
}
