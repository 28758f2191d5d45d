import { mkdirSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { writeDurably } from '../../src/inbox/writeDurably.js';
import { scratchFolder } from '../fixtures/program.js';

it('writes a whole file in the place of what was there, and leaves nothing else', async () => {
  const path = join(scratchFolder(), 'a/b.txt');
  await writeDurably(path, 'first');
  await writeDurably(path, 'second');
  expect(readFileSync(path, 'utf8')).toBe('second');
  expect(readdirSync(join(path, '..'))).toEqual(['b.txt']);
});

it('leaves no half of a file behind where it cannot be put in place', async () => {
  const folder = scratchFolder();
  // A folder of that name stands in the way.
  mkdirSync(join(folder, 'b.txt/inner'), { recursive: true });
  await expect(writeDurably(join(folder, 'b.txt'), 'x')).rejects.toMatchObject({
    code: 'disk-failed',
    hint: 'Is the disk still connected, and does no folder of that name stand in the way?',
  });
  expect(readdirSync(folder)).toEqual(['b.txt']);
});
