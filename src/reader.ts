/** What reads ride files, put together: all that the command `look` needs, and loaded without the rest. */

import { openFile } from './files/archives/openFile.js';
import { mayBeRide } from './files/mayBeRide.js';
import { decodePool } from './files/threads/decodePool.js';
import { decodeThread } from './files/threads/decodeThread.js';
import { unpackThread } from './files/threads/unpackThread.js';
import type { DecoderState } from './ports/loops.js';
import type { RideReader } from './ports/reader.js';

export { countFiles } from './files/archives/openFile.js';
export { listFiles } from './inbox/listFiles.js';

/** So many files are decoded at a time, also on one core: a slow file leaves a thread for everybody else's. */
const DECODERS = 2;
const scriptOf = (name: string): URL => new URL(`../workers/${name}.js`, import.meta.url);
const openDecoder = () => decodePool(DECODERS, () => decodeThread(scriptOf('decode')));

/** Returns what reads ride files, with threads of its own that start when they are needed and end when it is closed. */
export function openReader(): RideReader & { state(): DecoderState; close(): Promise<void> } {
  const [decoder, opener] = [openDecoder(), unpackThread(scriptOf('unpack'))];
  return {
    decode: decoder.decode,
    state: decoder.state,
    open: opener.open,
    mayBeRide,
    isWhole: opener.isWhole,
    close: async () => void (await Promise.all([decoder.close(), opener.close()])),
  };
}

/** So little keeps nobody waiting, whatever is in it, and starting a thread takes longer. Units: bytes. */
const SMALL = 64 * 1024;

const lookDecoder = openDecoder();

/** The same for a look at files, beside which nothing goes on: they are opened, and small ones read, where it is asked. */
export const lookReader: Pick<RideReader, 'open' | 'decode'> = {
  open: openFile,
  decode: async (file, now) => {
    if (file.bytes.length > SMALL) return lookDecoder.decode(file, now);
    const { decodeFile } = await import('./flow/take/decodeFile.js');
    const { readerFor } = await import('./files/readWith.js');
    return decodeFile(await readerFor(file.bytes), file, now);
  },
};
