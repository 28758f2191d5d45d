import { createHash } from 'node:crypto';
import { mkdirSync, readFileSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { originalsIn } from '../../src/inbox/originals.js';
import { scratchFolder } from '../fixtures/program.js';

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);

it('keeps a file once, under the hash of its content', async () => {
  const folder = scratchFolder();
  const originals = originalsIn(folder);
  const sha256 = await originals.keep(bytes('a ride'));
  expect(sha256).toBe(createHash('sha256').update('a ride').digest('hex'));
  expect(await originals.keep(bytes('a ride'))).toBe(sha256);
  expect(await originals.list()).toEqual([sha256]);
  expect(readFileSync(join(folder, sha256.slice(0, 2), sha256), 'utf8')).toBe('a ride');
});

it('removes a file for good, and keeps it anew when it comes again', async () => {
  const originals = originalsIn(scratchFolder());
  const [one, other] = [await originals.keep(bytes('one')), await originals.keep(bytes('other'))];
  await originals.remove(one);
  await originals.remove(one);
  expect(await originals.list()).toEqual([other]);
  await originals.keep(bytes('one'));
  expect([...(await originals.list())].sort()).toEqual([one, other].sort());
});

it('lists nothing but what it kept, and nothing where nothing ever was', async () => {
  const folder = scratchFolder();
  expect(await originalsIn(join(folder, 'never')).list()).toEqual([]);
  mkdirSync(join(folder, 'ab'));
  writeFileSync(join(folder, 'ab', '.half.part'), 'x');
  writeFileSync(join(folder, 'note.txt'), 'x');
  expect(await originalsIn(folder).list()).toEqual([]);
});

it('tells what came here long ago, whatever a copy says of its time, and what is not what it was', async () => {
  const folder = scratchFolder();
  const originals = originalsIn(folder);
  const sha256 = await originals.keep(bytes('a picture'));
  const path = join(folder, sha256.slice(0, 2), sha256);
  utimesSync(path, new Date(0), new Date(0));
  expect(await originals.listUntouched(60_000)).toEqual([]);
  expect(await originals.listUntouched(0)).toEqual([sha256]);
  expect(await originals.look(sha256)).toBe('whole');
  writeFileSync(path, 'another');
  expect(await originals.look(sha256)).toBe('damaged');
  await originals.remove(sha256);
  expect(await originals.look(sha256)).toBe('missing');
});
