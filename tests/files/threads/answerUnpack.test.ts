import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { movedWith, unpacker } from '../../../src/files/threads/answerUnpack.js';
import { textBytes } from '../../fixtures/gpxFile.js';
import { scratchFolder } from '../../fixtures/program.js';
import { zipFile } from '../../fixtures/zipFile.js';

const ZIP = zipFile(['a', 'b'].map((name) => ({ name, bytes: textBytes(name) })));

it('unpacks a member when it is asked for, and nothing more of what was closed', async () => {
  const answer = unpacker();
  const from = join(scratchFolder(), 'all.zip');
  writeFileSync(from, ZIP);
  await answer({ id: 1, do: 'open', from, name: 'all.zip' });
  expect(await answer({ id: 2, do: 'next', opened: 1 })).toMatchObject({
    id: 2,
    member: { name: 'all.zip/a' },
  });
  await answer({ id: 3, do: 'close', opened: 1 });
  expect(await answer({ id: 4, do: 'next', opened: 1 })).toEqual({ id: 4, member: null });
});

it('tells a fault of the disk from one of the program', async () => {
  const answer = unpacker();
  expect(await answer({ id: 1, do: 'whole', path: '/nowhere/at all' })).toMatchObject({
    id: 1,
    fault: { disk: { code: 'ENOENT', path: '/nowhere/at all' } },
  });
});

it('hands over bytes that are nobody else’s, and leaves what shares its memory to be copied', () => {
  const own = new Uint8Array(8);
  const shared = new Uint8Array(16).subarray(0, 8);
  expect(movedWith({ id: 1, member: { name: 'a', bytes: own } })).toEqual([own.buffer]);
  expect(movedWith({ id: 1, member: { name: 'a', bytes: shared } })).toEqual([]);
  expect(movedWith({ id: 1, member: null })).toEqual([]);
});
