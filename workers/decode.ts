/** Decodes files in a thread, which is ended when one of them defeats it. */
import { parentPort } from 'node:worker_threads';
import type { DecodeRequest } from '../src/files/threads/decodeThread.js';
import { marksUnder } from '../src/files/threads/marks.js';
import { NO_BYTES, readerInHand } from '../src/files/threads/readInHand.js';
import { decodeFile } from '../src/flow/take/decodeFile.js';

const port = parentPort!;
port.on('message', async ({ file, now }: DecodeRequest) => {
  const { name, placeKey } = file;
  const mark = placeKey === undefined ? undefined : marksUnder(placeKey);
  const read = await readerInHand(file);
  port.postMessage(decodeFile(read, { bytes: NO_BYTES, name }, now, mark));
});
