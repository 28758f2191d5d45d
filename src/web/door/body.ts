import type { Context } from 'hono';
import { HTTPException } from 'hono/http-exception';

/** How a body must come. Units: bytes, milliseconds. */
export interface Pace {
  readonly mostBytes: number;
  /** The whole of it. */
  readonly wholeMs: number;
  /** At least so many bytes in each so long a time; whoever stalls is not waited for. */
  readonly least?: { readonly bytes: number; readonly eachMs: number };
}

const LATE = Symbol('late');

/**
 * Yields the bytes of a request as they come, and never reads on while nobody takes them.
 * Errors: HTTPException 413 for too much, before a byte is read where the request says so; 408 for too slow; 400 where
 * it breaks off.
 */
export async function* pacedBody(
  c: Context,
  { mostBytes, wholeMs, least }: Pace,
): AsyncGenerator<Uint8Array> {
  if (Number(c.req.header('content-length') ?? 0) > mostBytes) throw new HTTPException(413);
  const reader = c.req.raw.body?.getReader();
  if (!reader) return;
  const endsAt = performance.now() + wholeMs;
  let [bytes, markBytes, markAt] = [0, 0, performance.now()];
  try {
    for (;;) {
      const waitsUntil = least ? Math.min(endsAt, markAt + least.eachMs) : endsAt;
      const next = await within(reader.read(), waitsUntil - performance.now()).catch(notWhole);
      if (next === LATE) throw new HTTPException(408);
      if (next.done) return;
      bytes += next.value.length;
      if (bytes > mostBytes) throw new HTTPException(413);
      if (least && bytes - markBytes >= least.bytes) [markBytes, markAt] = [bytes, performance.now()];
      yield next.value;
    }
  } finally {
    // Not cancelled: that would cut the connection before its answer.
    reader.releaseLock();
  }
}

/** Whoever sent it has gone. */
function notWhole(cause: unknown): never {
  throw new HTTPException(400, { cause });
}

async function within<T>(work: Promise<T>, ms: number): Promise<T | typeof LATE> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<typeof LATE>((resolve) => {
    timer = setTimeout(resolve, Math.max(0, ms), LATE);
  });
  // Whoever is late is let go of, and may fail then.
  work.catch(() => undefined);
  try {
    return await Promise.race([work, late]);
  } finally {
    clearTimeout(timer);
  }
}

const FORM_MS = 20_000;

/** Takes a small form in, so that its fields can be read. Errors: as of `pacedBody`. */
export async function takeForm(c: Context, mostBytes: number): Promise<void> {
  const chunks: Uint8Array[] = [];
  for await (const chunk of pacedBody(c, { mostBytes, wholeMs: FORM_MS })) chunks.push(chunk);
  c.req.raw = new Request(c.req.raw, { body: Buffer.concat(chunks) });
}
