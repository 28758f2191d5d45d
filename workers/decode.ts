/** Decodes files in a thread, which is ended when one of them defeats it. */
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { parentPort } from 'node:worker_threads';
import { readerFor } from '../src/files/readWith.js';
import type { DecodeRequest } from '../src/files/threads/decodeThread.js';
import { marksUnder } from '../src/files/threads/marks.js';
import { decodeFile } from '../src/flow/take/decodeFile.js';
import type { FileContent } from '../src/ports/reader.js';

const NOTHING = new Uint8Array();
const LARGE_BYTES = 4 * 1024 * 1024;

/** Columns lie outside the heap and hardly hurry it: left to itself it clears them when the whole file is read. */
function clearMemory(): void {
  setFlagsFromString('--expose-gc');
  (runInNewContext('gc') as () => void)();
}

/** Whoever reads the file lets go of its bytes. */
interface InHand extends DecodeRequest {
  readonly file: { -readonly [K in keyof DecodeRequest['file']]: DecodeRequest['file'][K] };
}

// Each looks at the bytes in a frame of its own: while one that did so lasts, they are held, whatever becomes of its names.
const readerOf = ({ file }: InHand) => readerFor(file.bytes);
const isLarge = ({ file }: InHand): boolean => file.bytes.length > LARGE_BYTES;
function readOnce({ file }: InHand, reader: Awaited<ReturnType<typeof readerFor>>): FileContent {
  const content = reader(file.bytes, file.name);
  file.bytes = NOTHING;
  return content;
}

const port = parentPort!;
port.on('message', async (inHand: InHand) => {
  const { name, placeKey } = inHand.file;
  const mark = placeKey === undefined ? undefined : marksUnder(placeKey);
  const reader = await readerOf(inHand);
  // The bytes of a large file are as much as all its columns: they are let go of before the rest begins.
  const read = (): FileContent => {
    const needsRoom = isLarge(inHand);
    const content = readOnce(inHand, reader);
    if (needsRoom) clearMemory();
    return content;
  };
  port.postMessage(decodeFile(read, { bytes: NOTHING, name }, inHand.now, mark));
});
