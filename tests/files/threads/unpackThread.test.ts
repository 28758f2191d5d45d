/** Files and archives opened in a thread, as the program has it: the same as without, and nobody waits for it. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { gzipSync } from 'node:zlib';
import { expect, it, onTestFinished } from 'vitest';
import { openFile } from '../../../src/files/archives/openFile.js';
import { unpackThread } from '../../../src/files/threads/unpackThread.js';
import type { FileMember } from '../../../src/ports/reader.js';
import { gpxText, straightTrack, textBytes } from '../../fixtures/gpxFile.js';
import { BUILT, scratchFolder } from '../../fixtures/program.js';
import { zipFile } from '../../fixtures/zipFile.js';

const RIDE = textBytes(gpxText([{ segments: [straightTrack(Date.UTC(2024, 4, 1, 9), 300)] }]));

function started() {
  const thread = unpackThread(pathToFileURL(join(BUILT, 'workers/unpack.js')));
  onTestFinished(() => thread.close());
  return thread;
}

const listed = async (members: AsyncIterable<FileMember>): Promise<unknown[]> => {
  const all: unknown[] = [];
  for await (const member of members)
    all.push('bytes' in member ? [member.name, Buffer.from(member.bytes).toString('base64')] : member);
  return all;
};

it('yields what is yielded without it, of a plain file, archives, damaged ones and what is refused', async () => {
  const folder = scratchFolder();
  const files = {
    'a.gpx': RIDE,
    'a.gpx.gz': gzipSync(RIDE),
    'half.gz': gzipSync(RIDE).subarray(0, 500),
    'all.zip': zipFile([
      { name: 'a.gpx', bytes: RIDE },
      { name: 'b.gpx.gz', bytes: gzipSync(RIDE) },
      { name: '../out.gpx', bytes: RIDE },
    ]),
    'empty.fit': new Uint8Array(),
  };
  const thread = started();
  for (const [name, bytes] of Object.entries(files)) {
    const path = join(folder, name);
    writeFileSync(path, bytes);
    const expected = await listed(openFile(path, name));
    expect(await listed(thread.open(path, name))).toEqual(expected);
  }
});

it('says whether a file is whole, and a missing one is a fault of the disk', async () => {
  const path = join(scratchFolder(), 'a.gpx.gz');
  const thread = started();
  writeFileSync(path, gzipSync(RIDE));
  expect(await thread.isWhole(path)).toBe(true);
  writeFileSync(path, gzipSync(RIDE).subarray(0, 500));
  expect(await thread.isWhole(path)).toBe(false);
  // Beside the fault stands of which file it is, so that a log may leave the name out.
  const cause = { code: 'ENOENT', path: `${path}.gone` };
  await expect(thread.isWhole(`${path}.gone`)).rejects.toMatchObject({ code: 'disk-failed', cause });
  await expect(listed(thread.open(`${path}.gone`, 'gone'))).rejects.toMatchObject({ code: 'disk-failed' });
});

it('an archive that is left in the middle is closed, and others are open beside it', async () => {
  const folder = scratchFolder();
  const path = join(folder, 'all.zip');
  writeFileSync(path, zipFile(['a', 'b', 'c'].map((name) => ({ name, bytes: textBytes(name) }))));
  const thread = started();
  const first = thread.open(path, 'first')[Symbol.asyncIterator]();
  expect((await first.next()).value).toMatchObject({ name: 'first/a' });
  expect(await listed(thread.open(path, 'second'))).toHaveLength(3);
  await first.return?.();
  expect(await listed(thread.open(path, 'third'))).toHaveLength(3);
});

it('what is under way when it is closed fails, and says that it is read later', async () => {
  const thread = started();
  const path = join(scratchFolder(), 'a.gpx');
  writeFileSync(path, RIDE);
  const asked = expect(thread.isWhole(path)).rejects.toThrow('it is read by the next start');
  await thread.close();
  await asked;
});

/** In the folder of a rider: each is tried again and again while it is copied, and unpacks to 60 MB. */
it('eight cut-off archives that unpack to much hold up nothing else', async () => {
  const folder = scratchFolder();
  const cut = gzipSync(Buffer.alloc(60_000_000)).subarray(0, -9);
  const paths = Array.from({ length: 8 }, (_, i) => join(folder, `${i}.gz`));
  for (const path of paths) writeFileSync(path, cut);
  const thread = started();
  let [longest, last] = [0, performance.now()];
  const beat = setInterval(() => {
    longest = Math.max(longest, performance.now() - last);
    last = performance.now();
  }, 5);
  expect(await Promise.all(paths.map(thread.isWhole))).toEqual(paths.map(() => false));
  clearInterval(beat);
  expect(longest).toBeLessThan(1000);
});

/** A thread that breaks at one file, and takes its time over the others. */
const BREAKING = `
import { parentPort } from 'node:worker_threads';
parentPort.on('message', ({ id, path }) => {
  if (path === 'breaks') setTimeout(() => process.exit(1), 100);
  else setTimeout(() => parentPort.postMessage({ id, whole: true }), 300);
});
`;

it('a file that breaks the thread is at fault, and those beside it are asked to come again', async () => {
  const script = join(scratchFolder(), 'breaking.mjs');
  writeFileSync(script, BREAKING);
  const thread = unpackThread(pathToFileURL(script));
  onTestFinished(() => thread.close());
  const own = { name: 'Error', message: 'The thread that opens files ended.' };
  const again = { code: 'refused', message: expect.stringContaining('this one is tried again') };
  for (const blame of [again, again, own]) {
    const [sound, breaking] = [thread.isWhole(`sound ${blame === own}`), thread.isWhole('breaks')];
    await Promise.all([
      expect(sound).rejects.toMatchObject(again),
      expect(breaking).rejects.toMatchObject(blame),
    ]);
    expect(await thread.isWhole(`sound ${blame === own}`)).toBe(true);
  }
  await expect(thread.isWhole('breaks')).rejects.toMatchObject(own);
});
