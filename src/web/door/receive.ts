import type { Context } from 'hono';
import type { Parts, SentPart } from '../../ports/inbox.js';
import { MINUTE_MS } from '../../units.js';
import { type Pace, pacedBody } from './body.js';
import { boundaryOf, Malformed, multipart } from './multipart.js';

/** Beside the files: names, the bike, what lies between the parts. Units: bytes. */
const FRAME_BYTES = 100_000;
const LONGEST_FIELD = 1000;
const MOST_FIELDS = 100;

/** A slow phone may take its time; who sends next to nothing for so long is not waited for. */
const paceOf = (mostMb: number): Pace => ({
  mostBytes: mostMb * 1_000_000 + FRAME_BYTES,
  wholeMs: 15 * MINUTE_MS,
  least: { bytes: 32_000, eachMs: 20_000 },
});

/** A file as it was sent, on disk. */
export interface Received {
  readonly name: string;
  readonly part: SentPart;
}

export interface Sending {
  readonly files: readonly Received[];
  readonly fields: Readonly<Record<string, string>>;
}

/** Why nothing is taken of what is sent. */
export type NotReceived = 'tooMany' | 'tooMuch' | 'noRoom' | 'notWhole';

/** Where a sending goes, and whether so many bytes more may come. */
export interface Into {
  readonly parts: Parts;
  readonly mostFiles: number;
  readonly mostMb: number;
  mayCome(bytes: number): boolean;
}

/**
 * Writes what is sent to disk as it comes, hands it to the work, and leaves nothing of it there.
 * Errors: HTTPException, as of `pacedBody`; ServiceError `disk-failed`.
 */
export async function receiving<T>(
  c: Context,
  into: Into,
  work: (sending: Sending) => Promise<T>,
): Promise<T | NotReceived> {
  const files: Received[] = [];
  try {
    const fields = await receive(c, into, files);
    return typeof fields === 'string' ? fields : await work({ files, fields });
  } catch (error) {
    if (error instanceof Malformed) return 'notWhole';
    throw error;
  } finally {
    for (const { part } of files) await part.remove();
  }
}

async function receive(
  c: Context,
  { parts, mayCome, mostFiles, mostMb }: Into,
  files: Received[],
): Promise<Record<string, string> | NotReceived> {
  const boundary = boundaryOf(c.req.header('content-type'));
  if (boundary === null) return 'notWhole';
  const fields: Record<string, string> = {};
  let to: { readonly field: string; text: Buffer } | Received | null = null;
  for await (const piece of multipart(pacedBody(c, paceOf(mostMb)), boundary)) {
    if (!(piece instanceof Uint8Array)) {
      if (to && 'part' in to) await to.part.close();
      if (piece.fileName === null) {
        to = { field: piece.name, text: Buffer.alloc(0) };
        fields[piece.name] = '';
      } else if (piece.fileName === '') to = null;
      else if (files.length === mostFiles) return 'tooMany';
      else {
        to = { name: piece.fileName, part: await parts.begin() };
        files.push(to);
      }
    } else if (to && 'part' in to) {
      if (!mayCome(piece.length)) return 'tooMuch';
      if (!(await to.part.add(piece))) return 'noRoom';
    } else if (to) {
      to.text = Buffer.concat([to.text, piece]);
      if (to.text.length > LONGEST_FIELD || Object.keys(fields).length > MOST_FIELDS) return 'notWhole';
      fields[to.field] = to.text.toString('utf8');
    }
  }
  if (to && 'part' in to) await to.part.close();
  return fields;
}
