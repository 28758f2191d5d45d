const CHUNK_BYTES = 64 * 1024;
const HEAD_BYTES = 64 * 1024;
/** In nearly every file the root element begins within these. */
const FIRST_BYTES = 1024;
/** A longer name is cut off. */
const LONGEST_NAME = 200;

const latin1 = new TextDecoder('latin1');

/** Returns the encoding of an XML file: by its first bytes, else as it declares, else UTF-8. */
export function xmlEncodingOf(bytes: Uint8Array): string {
  const [a, b] = bytes;
  if ((a === 0xfe && b === 0xff) || (a === 0 && b !== 0)) return 'utf-16be';
  if ((a === 0xff && b === 0xfe) || (b === 0 && a !== 0)) return 'utf-16le';
  if (a === 0xef && b === 0xbb) return 'utf-8';
  const head = latin1.decode(bytes.subarray(0, FIRST_BYTES));
  const declared =
    /^\s*<\?xml[^>]*\bencoding\s*=\s*["']([^"']+)["']/.exec(head)?.[1]?.toLowerCase() ?? 'utf-8';
  // What declares two bytes a character in a text of one byte each was converted since.
  return declared.startsWith('utf-16') || declared.startsWith('ucs-2') ? 'utf-8' : declared;
}

/** Returns whether the encoding is one that can be decoded. */
export function isKnownEncoding(encoding: string): boolean {
  if (encoding === 'utf-8') return true;
  try {
    return new TextDecoder(encoding).encoding !== '';
  } catch (error) {
    if (error instanceof RangeError) return false;
    throw error;
  }
}

/** Yields the text in pieces, without what stands before the first `<`: a mark of byte order, white space. */
export function* xmlChunks(bytes: Uint8Array, encoding: string): Generator<string> {
  const decoder = new TextDecoder(encoding);
  let started = false;
  for (let at = 0; at < bytes.length; at += CHUNK_BYTES) {
    const more = at + CHUNK_BYTES < bytes.length;
    const text = decoder.decode(bytes.subarray(at, at + CHUNK_BYTES), { stream: more });
    const rest: string = started ? text : text.trimStart();
    started ||= rest !== '';
    if (rest !== '') yield rest;
  }
}

/** What an XML file begins with: its root element's local name, null where none is found in the first kilobytes. */
export interface XmlStart {
  readonly root: string | null;
  /** Whether a document type stands before it that defines entities of its own, or could. */
  readonly entities: boolean;
}

/** Returns what an XML file begins with. */
export function xmlStartOf(bytes: Uint8Array): XmlStart {
  const encoding = xmlEncodingOf(bytes);
  if (!isKnownEncoding(encoding)) return { root: null, entities: false };
  const decoder = new TextDecoder(encoding);
  const first = decoder.decode(bytes.subarray(0, FIRST_BYTES));
  const { at, ...start } = startIn(first);
  if (start.root !== null && at + LONGEST_NAME <= first.length) return start;
  const { root, entities } = startIn(decoder.decode(bytes.subarray(0, HEAD_BYTES)));
  return { root, entities };
}

/** `at` is the character that the root element begins with, if it does. */
function startIn(head: string): XmlStart & { readonly at: number } {
  let at = 0;
  for (;;) {
    at += head.slice(at).search(/\S|$/);
    if (isDoctype(head, at)) {
      const end = /[[>]/.exec(head.slice(at));
      if (end === null || end[0] === '[' || /^<!doctype\s+gpx\b/i.test(head.slice(at, at + 64))) {
        return { at, root: null, entities: true };
      }
      at += end.index + 1;
      continue;
    }
    const close = head.startsWith('<?', at) ? '?>' : head.startsWith('<!--', at) ? '-->' : null;
    if (close === null) break;
    const end = head.indexOf(close, at);
    if (end < 0) break;
    at = end + close.length;
  }
  const name = /^<(?:[\w.-]+:)?([\w.-]+)/.exec(head.slice(at, at + LONGEST_NAME));
  return { at, root: name?.[1] ?? null, entities: false };
}

const isDoctype = (head: string, at: number): boolean => head.slice(at, at + 9).toLowerCase() === '<!doctype';
