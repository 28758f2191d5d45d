import { utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { atWorkIn, listAtWork } from '../../src/inbox/atWork.js';
import { scratchFolder } from '../fixtures/program.js';

it('tells how far a command is until it is done', () => {
  const folder = scratchFolder();
  const work = atWorkIn(folder, 'import');
  expect(listAtWork(folder)).toEqual([]);
  for (const left of [900, 40]) {
    work.say(left);
    expect(listAtWork(folder)).toEqual([{ command: 'import', left }]);
  }
  work.done();
  expect(listAtWork(folder)).toEqual([]);
});

it('believes neither who has ended, nor who said nothing for minutes, nor half a word', () => {
  const folder = scratchFolder();
  // No process has the largest number. Source: proc(5), pid_max.
  writeFileSync(join(folder, `at-work-${2 ** 22}`), '{"command":"check","left":5}');
  const own = join(folder, `at-work-${process.pid}`);
  writeFileSync(own, '{"command":"ch');
  expect(listAtWork(folder)).toEqual([]);
  writeFileSync(own, '{"command":"check","left":5}');
  expect(listAtWork(folder)).toHaveLength(1);
  const before = new Date(Date.now() - 150_000);
  utimesSync(own, before, before);
  expect(listAtWork(folder)).toEqual([]);
});
