import { readdirSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { openSecret } from '../src/secret.js';
import { scratchFolder } from './fixtures/program.js';

it('is made once, for its owner only, and leaves nothing beside it', () => {
  const folder = join(scratchFolder(), 'data');
  const secret = openSecret(folder, null);
  expect(secret).toHaveLength(32);
  expect(openSecret(folder, null)).toEqual(secret);
  expect(readdirSync(folder)).toEqual(['secret']);
  expect(statSync(join(folder, 'secret')).mode & 0o777).toBe(0o600);
  expect(openSecret(join(scratchFolder(), 'other'), null)).not.toEqual(secret);
});

it('is the setting’s where there is one', () => {
  const folder = scratchFolder();
  expect(openSecret(folder, 'a'.repeat(32))).toEqual(Buffer.from('a'.repeat(32)));
  expect(readdirSync(folder)).toEqual([]);
});

it('is not taken from a damaged file, which would sign links that anybody can forge', () => {
  for (const content of ['', 'abcd', 'not hex at all'.repeat(5)]) {
    const folder = scratchFolder();
    writeFileSync(join(folder, 'secret'), content);
    expect(() => openSecret(folder, null)).toThrowError(expect.objectContaining({ code: 'disk-failed' }));
  }
});
