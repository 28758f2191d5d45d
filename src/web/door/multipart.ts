/** What stands above a part of a form: its field, and the file's name where it is one. */
export interface PartHead {
  readonly name: string;
  readonly fileName: string | null;
}

/** A form that is not what it says it is. */
export class Malformed extends Error {}

const [CRLF, HEAD_END] = [Buffer.from('\r\n'), Buffer.from('\r\n\r\n')];
const LONGEST_HEAD = 8 * 1024;

/** Returns the text between the parts as the request tells it; null where it is no such form. Source: RFC 2046 5.1.1. */
export function boundaryOf(contentType: string | undefined): string | null {
  if (!/^\s*multipart\/form-data\s*;/i.test(contentType ?? '')) return null;
  const found = /;\s*boundary=(?:"([^"]{1,70})"|([^\s;"]{1,70}))/i.exec(contentType!);
  return found?.[1] ?? found?.[2] ?? null;
}

/**
 * Yields each part's head and then its bytes as they come, holding no more than one chunk.
 * Errors: Malformed. Source: RFC 7578; RFC 2046 5.1; the HTML standard for names.
 */
export async function* multipart(
  chunks: AsyncIterable<Uint8Array>,
  boundary: string,
): AsyncGenerator<PartHead | Uint8Array> {
  const line = Buffer.from(`\r\n--${boundary}`);
  // The first line of parts may be the first of all.
  let held: Buffer = CRLF;
  let at: 'before' | 'line' | 'part' | 'after' = 'before';
  for await (const chunk of chunks) {
    if (at === 'after') continue;
    held = Buffer.concat([held, chunk]);
    for (;;) {
      if (at === 'line') {
        // Two dashes after the last part; else a head, which begins on the next line.
        if (held.length < 2) break;
        if (held.toString('latin1', 0, 2) === '--') {
          at = 'after';
          break;
        }
        const end = held.indexOf(HEAD_END);
        if (end > LONGEST_HEAD || (end === -1 && held.length > LONGEST_HEAD)) throw new Malformed();
        if (end === -1) break;
        yield headOf(held.toString('utf8', 0, end));
        held = held.subarray(end + HEAD_END.length);
        at = 'part';
      }
      const next = held.indexOf(line);
      const whole = next === -1 ? Math.max(0, held.length - line.length + 1) : next;
      if (at === 'part' && whole > 0) yield held.subarray(0, whole);
      held = held.subarray(next === -1 ? whole : next + line.length);
      if (next === -1) break;
      at = 'line';
    }
  }
  if (at !== 'after') throw new Malformed();
}

/** Browsers write a quote and line breaks in names as these. Source: HTML standard, multipart/form-data encoding. */
const UNWRITTEN: Readonly<Record<string, string>> = { '%22': '"', '%0D': '\r', '%0A': '\n' };
const read = (written: string | undefined): string | null =>
  written?.replace(/%22|%0D|%0A/gi, (code) => UNWRITTEN[code.toUpperCase()]!) ?? null;

function headOf(text: string): PartHead {
  // A name may hold what other texts take for the end of a line: U+2028.
  const lines = text
    .split('\r\n')
    .map((line) => /^\s*content-disposition:\s*form-data\b([\s\S]*)$/i.exec(line));
  const disposition = lines.find((found) => found !== null)?.[1] ?? '';
  const name = read(/;\s*name="([^"]*)"/i.exec(disposition)?.[1]);
  if (name === null) throw new Malformed();
  return { name, fileName: read(/;\s*filename="([^"]*)"/i.exec(disposition)?.[1]) };
}
