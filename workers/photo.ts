/** Makes photographs in a thread, which is ended when one of them defeats it. */
import { parentPort } from 'node:worker_threads';
import { encodePhoto } from '../src/photos/encodePhoto.js';

const port = parentPort!;
port.on('message', async (bytes: Uint8Array) => port.postMessage(await encodePhoto(bytes)));
