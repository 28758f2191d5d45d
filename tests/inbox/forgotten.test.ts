import { expect, it } from 'vitest';
import { forgottenIn } from '../../src/inbox/forgotten.js';
import { scratchFolder } from '../fixtures/program.js';

it('keeps who was forgotten, each once, and owes a sweep until one was made', async () => {
  const folder = scratchFolder();
  expect(await forgottenIn(folder).list()).toEqual([]);
  expect(forgottenIn(folder).sweepOwed()).toBe(null);
  for (const id of ['a1', 'b2', 'a1']) await forgottenIn(folder).note(id);
  // As after a stop of the program.
  expect(await forgottenIn(folder).list()).toEqual(['a1', 'b2']);
  const owed = forgottenIn(folder).sweepOwed()!;
  expect(owed).not.toBe(null);
  await forgottenIn(folder).sweepDone(owed);
  await forgottenIn(folder).sweepDone(owed);
  expect(forgottenIn(folder).sweepOwed()).toBe(null);
  expect(await forgottenIn(folder).list()).toEqual(['a1', 'b2']);
});

it('owes another sweep to whoever is forgotten while one is made', async () => {
  const forgotten = forgottenIn(scratchFolder());
  await forgotten.note('a1');
  const owed = forgotten.sweepOwed()!;
  await forgotten.note('b2');
  await forgotten.sweepDone(owed);
  expect(forgotten.sweepOwed()).not.toBe(null);
  await forgotten.sweepDone(forgotten.sweepOwed()!);
  expect(forgotten.sweepOwed()).toBe(null);
});
