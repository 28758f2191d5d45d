import { expect, it } from 'vitest';
import { forgottenIn } from '../../src/inbox/forgotten.js';
import { scratchFolder } from '../fixtures/program.js';

it('keeps who was forgotten, each once, and owes a sweep until one was made', async () => {
  const folder = scratchFolder();
  expect(await forgottenIn(folder).list()).toEqual([]);
  expect(forgottenIn(folder).sweep.mark()).toBe(null);
  for (const id of ['a1', 'b2', 'a1']) await forgottenIn(folder).note(id);
  // As after a stop of the program.
  expect(await forgottenIn(folder).list()).toEqual(['a1', 'b2']);
  const owed = forgottenIn(folder).sweep.mark()!;
  expect(owed).not.toBe(null);
  await forgottenIn(folder).sweep.done(owed);
  await forgottenIn(folder).sweep.done(owed);
  expect(forgottenIn(folder).sweep.mark()).toBe(null);
  expect(await forgottenIn(folder).list()).toEqual(['a1', 'b2']);
});

it('owes another sweep to whoever is forgotten while one is made', async () => {
  const forgotten = forgottenIn(scratchFolder());
  await forgotten.note('a1');
  const owed = forgotten.sweep.mark()!;
  await forgotten.note('b2');
  await forgotten.sweep.done(owed);
  expect(forgotten.sweep.mark()).not.toBe(null);
  await forgotten.sweep.done(forgotten.sweep.mark()!);
  expect(forgotten.sweep.mark()).toBe(null);
});
