import { MessageChannel } from 'node:worker_threads';
import type { FileContent } from '../../ports/reader.js';
import { readerFor } from '../readWith.js';

/** A file whose bytes are let go of once they are read. */
export interface FileInHand {
  readonly name: string;
  bytes: Uint8Array;
}

export const NO_BYTES = new Uint8Array();
const LARGE_BYTES = 4 * 1024 * 1024;

/**
 * Returns what reads the file once. The bytes of a large one are as much as all its columns. So they are let go of before
 * its samples are judged, with their memory where it is all theirs.
 */
export async function readerInHand(file: FileInHand): Promise<() => FileContent> {
  const reader = await readerFor(file.bytes);
  return () => {
    const { bytes } = file;
    const content = reader(bytes, file.name);
    file.bytes = NO_BYTES;
    if (bytes.length > LARGE_BYTES && bytes.length === bytes.buffer.byteLength) letGo(bytes);
    return content;
  };
}

/**
 * Whoever gives bytes to a message gives them away, and one that nobody can get takes them with it at once. A collector
 * would leave them lying until it needs room.
 */
function letGo({ buffer }: Uint8Array): void {
  const { port1, port2 } = new MessageChannel();
  port1.close();
  port2.close();
  if (buffer instanceof ArrayBuffer) port1.postMessage(null, [buffer]);
}
