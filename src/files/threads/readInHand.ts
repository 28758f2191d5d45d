import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
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
 * Returns what reads the file once. The bytes of a large one are as much as all its columns. So they are let go of, and
 * their memory is cleared, before its samples are judged.
 */
export async function readerInHand(file: FileInHand): Promise<() => FileContent> {
  const reader = await readerOf(file);
  return () => {
    const needsRoom = isLarge(file);
    const content = readOnce(file, reader);
    if (needsRoom) clearMemory();
    return content;
  };
}

type Reader = Awaited<ReturnType<typeof readerFor>>;

// Each looks at the bytes in a frame of its own: as long as one lasts they are held, whatever becomes of its names.
const readerOf = ({ bytes }: FileInHand): Promise<Reader> => readerFor(bytes);
const isLarge = ({ bytes }: FileInHand): boolean => bytes.length > LARGE_BYTES;
function readOnce(file: FileInHand, reader: Reader): FileContent {
  const content = reader(file.bytes, file.name);
  file.bytes = NO_BYTES;
  return content;
}

/** Columns lie outside the heap and hardly hurry it: left to itself it clears them when the whole file is read. */
function clearMemory(): void {
  setFlagsFromString('--expose-gc');
  (runInNewContext('gc') as () => void)();
}
