import { expect, test } from 'vitest';
import { FilesAhead } from '../../../src/flow/take/filesAhead.js';
import type { ReadFile } from '../../../src/flow/take/ingestFile.js';
import type { FileMember } from '../../../src/ports/reader.js';
import { problem } from '../../../src/problems.js';

const MOMENT = 5;
const LONG_MS = 60_000;

/** Files of so many bytes, and what was in hand of them at most. */
class Handing {
  fetched = 0;
  inHand = 0;
  mostInHand = 0;
  bytesInHand = 0;
  mostBytes = 0;
  isClosed = false;
  readonly slowness = { isTooMuch: false };

  async *members(sizes: readonly (number | 'broken' | Error)[]): AsyncGenerator<FileMember> {
    try {
      for (const [i, size] of sizes.entries()) {
        this.fetched += 1;
        if (size instanceof Error) throw size;
        yield size === 'broken'
          ? { name: `${i}`, problem: problem('unreadable', 'broken', `${i}`) }
          : { name: `${i}`, bytes: new Uint8Array(size) };
      }
    } finally {
      this.isClosed = true;
    }
  }

  read = async ({ name, bytes }: { name: string; bytes: Uint8Array }): Promise<ReadFile> => {
    this.inHand += 1;
    this.bytesInHand += bytes.length;
    this.mostInHand = Math.max(this.mostInHand, this.inHand);
    this.mostBytes = Math.max(this.mostBytes, this.bytesInHand);
    // The first takes longest, so that others are read before it.
    await new Promise((done) => setTimeout(done, name === '0' ? 4 * MOMENT : MOMENT));
    this.inHand -= 1;
    this.bytesInHand -= bytes.length;
    return { name, sha256: name } as ReadFile;
  };

  open = (sizes: readonly (number | 'broken' | Error)[]): FilesAhead =>
    new FilesAhead(this.members(sizes), this.slowness, this.read);
}

const namesOf = (files: readonly { readonly name: string }[]): string =>
  files.map(({ name }) => name).join(' ');

test('files are told in their order, some read beside others, and no more in hand than may be', async () => {
  const handing = new Handing();
  const ahead = handing.open([...Array.from({ length: 18 }, () => 10), 'broken', 10]);
  expect(namesOf(await ahead.next(8, LONG_MS))).toBe('0 1 2 3 4 5 6 7');
  const rest = await ahead.next(100, LONG_MS);
  expect(namesOf(rest)).toBe(Array.from({ length: 12 }, (_, i) => i + 8).join(' '));
  expect('problem' in rest[10]!).toBe(true);
  expect(await ahead.next(8, LONG_MS)).toEqual([]);
  expect(handing.mostInHand).toBe(6);
});

test('while the first ones are stored the next are read, and of large ones but two are in memory', async () => {
  const handing = new Handing();
  const large = 3 * 1024 * 1024;
  const ahead = handing.open(Array.from({ length: 6 }, () => large));
  expect(namesOf(await ahead.next(2, LONG_MS))).toBe('0 1');
  await expect.poll(() => handing.fetched).toBeGreaterThan(2);
  expect(namesOf(await ahead.next(8, LONG_MS))).toBe('2 3 4 5');
  expect(handing.mostBytes).toBe(2 * large);
});

test('who waited long enough is given those that are read', async () => {
  const handing = new Handing();
  const ahead = handing.open([10, 10, 10]);
  expect(namesOf(await ahead.next(3, 0))).toBe('0');
  await ahead.close();
});

test('what cannot be fetched fails after those before it, and whoever stops lets go of the rest', async () => {
  const failing = new Handing().open([10, new Error('the disk is gone')]);
  expect(namesOf(await failing.next(1, LONG_MS))).toBe('0');
  await expect(failing.next(1, LONG_MS)).rejects.toThrow('the disk is gone');
  const handing = new Handing();
  const ahead = handing.open(Array.from({ length: 100 }, () => 10));
  await ahead.next(2, LONG_MS);
  await ahead.close();
  expect(handing.isClosed).toBe(true);
  // No more than may wait to be stored.
  expect(handing.fetched).toBeLessThan(80);
});

test('of a handing-over that is too slow the rest is left, and said so', async () => {
  const handing = new Handing();
  handing.slowness.isTooMuch = true;
  const files = await handing.open([10, 10, 10]).next(8, LONG_MS);
  expect(files.map((file) => ('problem' in file ? file.problem.code : file.name))).toEqual(['archive-slow']);
});
