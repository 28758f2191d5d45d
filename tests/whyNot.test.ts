/** What is seen to be in the way of a file. What only another user or a mounted disk shows is tried by the commands. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { whyNot } from '../src/whyNot.js';
import { scratchFolder } from './fixtures/program.js';

const failed = (code: string): Error => Object.assign(new Error('x'), { code });

it('names a folder that is not there', () => {
  const folder = join(scratchFolder(), 'nowhere');
  expect(whyNot(join(folder, 'a.db'), failed('SQLITE_CANTOPEN'))).toEqual({
    message: `There is no folder ${folder}.`,
    hint: 'Make it, or name another.',
  });
});

it.each(['SQLITE_FULL', 'ENOSPC', 'EDQUOT'])('says that the disk is full where the fault was %s', (code) => {
  const folder = scratchFolder();
  expect(whyNot(join(folder, 'a.db'), failed(code))).toMatchObject({
    message: `The disk of ${folder} is full.`,
    hint: expect.stringMatching(/^Make room/),
  });
});

it('says nothing where nothing is in the way, a file that is there or not', () => {
  const folder = scratchFolder();
  writeFileSync(join(folder, 'a'), 'x');
  for (const name of ['a', 'b']) expect(whyNot(join(folder, name), failed('EIO'))).toBe(null);
});
