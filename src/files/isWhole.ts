import { open } from 'node:fs/promises';
import { gunzipSync } from 'node:zlib';
import type { RideFormat } from '../core/tokens.js';
import { LARGEST_FILE_BYTES } from './fileContent.js';
import { isWholeFit } from './fit/fitParts.js';
import { onDisk } from './onDisk.js';
import { formatOf, isRideFormat } from './sniff.js';
import { xmlEncodingOf } from './xml/xmlText.js';

const TAIL_BYTES = 4096;
/** The end of a zip's directory is 22 bytes and a comment of up to 65 535. */
const ZIP_END_BYTES = 22;
const ZIP_TAIL_BYTES = ZIP_END_BYTES + 0xffff;

/**
 * Returns whether a file is there to its end by its own format: FIT by sizes and checksums, GPX and TCX by their closing tags,
 * zip by the end of its directory, gzip by its checksum. False for anything else, which has no end of its own.
 */
export function isWhole(bytes: Uint8Array): boolean {
  const format = formatOf(bytes);
  if (format === 'zip') return hasZipEnd(bytes.subarray(-ZIP_TAIL_BYTES), bytes.length);
  if (format === 'gzip') return isWholeGzip(bytes);
  return isRideFormat(format) && WHOLE[format](bytes);
}

/**
 * Returns the same of a file on disk, of which a zip is not read whole; what is too large to be a ride needs no waiting.
 * Errors: ServiceError `disk-failed`.
 */
export const isWholeFile = (path: string): Promise<boolean> => onDisk(() => isWholeAt(path));

async function isWholeAt(path: string): Promise<boolean> {
  const file = await open(path);
  try {
    const { size } = await file.stat();
    const head = new Uint8Array(4);
    await file.read(head, 0, head.length, 0);
    if (formatOf(head) !== 'zip') return size > LARGEST_FILE_BYTES || isWhole(await file.readFile());
    const tail = new Uint8Array(Math.min(size, ZIP_TAIL_BYTES));
    const { bytesRead } = await file.read(tail, 0, tail.length, size - tail.length);
    return hasZipEnd(tail.subarray(0, bytesRead), size);
  } finally {
    await file.close();
  }
}

const isWholeXml =
  (root: RegExp) =>
  (bytes: Uint8Array): boolean => {
    // Two bytes a character: an even number from the end keeps them together.
    const tail = bytes.subarray(-TAIL_BYTES - (bytes.length % 2));
    let text = new TextDecoder(xmlEncodingOf(bytes)).decode(tail).trimEnd();
    while (text.endsWith('-->')) text = text.slice(0, Math.max(0, text.lastIndexOf('<!--'))).trimEnd();
    return root.test(text);
  };

const WHOLE: Readonly<Record<RideFormat, (bytes: Uint8Array) => boolean>> = {
  fit: isWholeFit,
  gpx: isWholeXml(/<\/(?:[\w.-]+:)?gpx\s*>$/),
  tcx: isWholeXml(/<\/(?:[\w.-]+:)?TrainingCenterDatabase\s*>$/),
};

/** The end names where the directory stands, which is right before it. */
function hasZipEnd(tail: Uint8Array, size: number): boolean {
  const view = new DataView(tail.buffer, tail.byteOffset, tail.length);
  for (let at = tail.length - ZIP_END_BYTES; at >= 0; at -= 1) {
    if (view.getUint32(at, true) !== 0x06054b50) continue;
    const directoryEnd = view.getUint32(at + 12, true) + view.getUint32(at + 16, true);
    // In the 64-bit form the true numbers stand elsewhere and these are all ones.
    const matches = directoryEnd >= 0xffffffff || directoryEnd === size - tail.length + at;
    if (matches && at + ZIP_END_BYTES + view.getUint16(at + 20, true) === tail.length) return true;
  }
  return false;
}

function isWholeGzip(bytes: Uint8Array): boolean {
  try {
    return gunzipSync(bytes, { maxOutputLength: LARGEST_FILE_BYTES }).length >= 0;
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : '';
    // What is too large is refused at once: no need to wait for its end.
    if (code === 'ERR_BUFFER_TOO_LARGE') return true;
    if (code.startsWith('Z_')) return false;
    throw error;
  }
}
