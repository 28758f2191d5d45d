import { expect, it } from 'vitest';
import { forgottenIn } from '../../src/inbox/forgotten.js';
import { scratchFolder } from '../fixtures/program.js';

it('keeps who was forgotten, each once, and owes a sweep until one was made', async () => {
  const folder = scratchFolder();
  expect(await forgottenIn(folder).list()).toEqual([]);
  expect(forgottenIn(folder).isSweepOwed()).toBe(false);
  for (const id of ['a1', 'b2', 'a1']) await forgottenIn(folder).note(id);
  // As after a stop of the program.
  expect(await forgottenIn(folder).list()).toEqual(['a1', 'b2']);
  expect(forgottenIn(folder).isSweepOwed()).toBe(true);
  await forgottenIn(folder).sweepDone();
  await forgottenIn(folder).sweepDone();
  expect(forgottenIn(folder).isSweepOwed()).toBe(false);
  expect(await forgottenIn(folder).list()).toEqual(['a1', 'b2']);
});
