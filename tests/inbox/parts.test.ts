import { readdirSync, readFileSync, statSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { partsIn } from '../../src/inbox/parts.js';
import { scratchFolder } from '../fixtures/program.js';

it('keeps what is added in its order, for its owner only, and leaves nothing of it', async () => {
  const folder = join(scratchFolder(), 'parts');
  const part = await partsIn(folder).begin();
  for (const text of ['one ', 'two ', 'three']) expect(await part.add(Buffer.from(text))).toBe(true);
  await part.close();
  expect(readFileSync(part.path, 'utf8')).toBe('one two three');
  for (const path of [folder, part.path]) expect(statSync(path).mode & 0o077).toBe(0);
  await part.remove();
  expect(readdirSync(folder)).toEqual([]);
});

it('takes no more than its room, of all together, and has it again once one is gone', async () => {
  const parts = partsIn(join(scratchFolder(), 'parts'), 10);
  const [one, other] = [await parts.begin(), await parts.begin()];
  expect(await one.add(Buffer.alloc(6))).toBe(true);
  expect(await other.add(Buffer.alloc(5))).toBe(false);
  await one.remove();
  expect(await other.add(Buffer.alloc(10))).toBe(true);
  await other.remove();
});

it('takes away what a program that was killed left, once it is an hour old', async () => {
  const folder = join(scratchFolder(), 'parts');
  await (await partsIn(folder).begin()).remove();
  for (const name of ['.old.part', '.young.part', 'a note']) writeFileSync(join(folder, name), '');
  const twoHoursAgo = Date.now() / 1000 - 7200;
  for (const name of ['.old.part', 'a note']) utimesSync(join(folder, name), twoHoursAgo, twoHoursAgo);
  await (await partsIn(folder).begin()).remove();
  expect(readdirSync(folder).sort()).toEqual(['.young.part', 'a note']);
});

it('says in plain words where nothing can be written', async () => {
  const file = join(scratchFolder(), 'a file');
  writeFileSync(file, '');
  await expect(partsIn(join(file, 'parts')).begin()).rejects.toMatchObject({ code: 'disk-failed' });
});
