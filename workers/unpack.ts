/** Opens files and archives in a thread, so that the pages go on being answered. */
import { parentPort } from 'node:worker_threads';
import { movedWith, unpacker } from '../src/files/threads/answerUnpack.js';
import type { UnpackRequest } from '../src/files/threads/unpackThread.js';

const port = parentPort!;
const answer = unpacker();
port.on('message', async (request: UnpackRequest) => {
  const answered = await answer(request);
  port.postMessage(answered, movedWith(answered));
});
