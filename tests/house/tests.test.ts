/** Each source file has its test: one of the same name, or one that names it. */
import { readdirSync, readFileSync } from 'node:fs';
import { basename, join, resolve } from 'node:path';
import { expect, it } from 'vitest';

const ROOT = resolve(import.meta.dirname, '../..');

const below = (folder: string): string[] =>
  readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.ts'))
    .map((file) => `${folder}/${file}`);

/** Files of types alone have nothing to test. */
const hasCode = (file: string): boolean =>
  /^(export )?(async )?(function|const|class|let)\b|^await\b|^program/m.test(
    readFileSync(join(ROOT, file), 'utf8'),
  );

it('every source file of the product is tested', () => {
  const tests = below('tests').filter((file) => file.endsWith('.ts'));
  const texts = tests.map((file) => readFileSync(join(ROOT, file), 'utf8')).join('\n');
  const missing = below('src')
    .filter(hasCode)
    .filter((file) => {
      const name = basename(file, '.ts');
      return (
        !tests.some((test) => basename(test) === `${name}.test.ts`) &&
        !texts.includes(`${file.replace(/\.ts$/, '.js')}'`)
      );
    });
  expect(missing).toEqual([]);
});
