/** Decodes files in a thread, which is ended when one of them defeats it. */
import { parentPort } from 'node:worker_threads';
import { readerFor } from '../src/files/readWith.js';
import type { DecodeRequest } from '../src/files/threads/decodeThread.js';
import { marksUnder } from '../src/files/threads/marks.js';
import { decodeFile } from '../src/flow/take/decodeFile.js';

const port = parentPort!;
port.on('message', async ({ file, now }: DecodeRequest) => {
  const mark = file.placeKey === undefined ? undefined : marksUnder(file.placeKey);
  port.postMessage(decodeFile(await readerFor(file.bytes), file, now, mark));
});
