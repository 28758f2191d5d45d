/** What must stand nowhere in the product. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, it } from 'vitest';

const ROOT = resolve(import.meta.dirname, '../..');
const SHOWN = ['src/web', 'src/mail', 'src/languages', 'src/cli', 'samples'];

/** Words that belong to other trades' pages and say less than ours. */
const AVOIDED = /\b(segments?|gears?|garages?|activit(y|ies)|efforts?)\b/i;

const filesOf = (folder: string): string[] =>
  readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.ts'))
    .map((file) => join(folder, file));

it('the words that a page must not use stand in no text that people see', () => {
  const found = SHOWN.flatMap(filesOf).flatMap((file) => {
    const strings = readFileSync(join(ROOT, file), 'utf8').matchAll(/'([^'\n]*)'|`([^`]*)`|"([^"\n]*)"/g);
    return [...strings]
      .map(([, a, b, c]) => a ?? b ?? c ?? '')
      .filter((text) => AVOIDED.test(text) && / /.test(text))
      .map((text) => `${file}: ${text}`);
  });
  expect(found).toEqual([]);
});

it('no file carries a path of the machine it was written on', () => {
  const files = ['src', 'tests', 'workers', 'migrations', 'samples'].flatMap(filesOf);
  const found = files.filter(
    (file) =>
      /['"`](\/work\/|\/home\/|\/root\/|[A-Z]:\\Users)/.test(readFileSync(join(ROOT, file), 'utf8')) &&
      !file.endsWith('words.test.ts'),
  );
  expect(found).toEqual([]);
});
