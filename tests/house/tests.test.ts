/** Each file of the pure rooms has a test of its own; every other one is at least walked through by some test. */
import { readdirSync, readFileSync } from 'node:fs';
import { basename, dirname, join, relative, resolve } from 'node:path';
import { expect, it } from 'vitest';

const ROOT = resolve(import.meta.dirname, '../..');

/** The rooms that are the product: nothing in them is tested only in passing. */
const BY_NAME = ['core', 'languages'];
/** Texts of one language are data; the tests of `languages` go through all of them. */
const A_LANGUAGE = /^src\/languages\/[a-z]+\//;
/** Tests that run the built program walk through its commands. */
const RUN_BY: Readonly<Record<string, string>> = { 'tests/fixtures/program.ts': 'src/cli/main.ts' };

const below = (folder: string): string[] =>
  readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.ts'))
    .map((file) => `${folder}/${file}`);

const textOf = (file: string): string => readFileSync(join(ROOT, file), 'utf8');

/** Files of types alone have nothing to test. */
const hasCode = (file: string): boolean =>
  /^(export )?(async )?(function|const|class|let)\b|^await\b/m.test(textOf(file));

const importsOf = (file: string): string[] =>
  [...textOf(file).matchAll(/\bfrom '(\.[^']+)'|\bimport\('(\.[^']+)'\)/g)].map(([, named, loaded]) =>
    relative(ROOT, resolve(ROOT, dirname(file), named ?? loaded ?? '')).replace(/\.js$/, '.ts'),
  );

const tests = below('tests');
const sources = below('src').filter(hasCode);

it('every file of the pure rooms has its test', () => {
  const imported = new Set(tests.flatMap(importsOf));
  const missing = sources
    .filter((file) => BY_NAME.includes(file.split('/')[1] ?? '') && !A_LANGUAGE.test(file))
    .filter(
      (file) =>
        !tests.some((test) => basename(test) === `${basename(file, '.ts')}.test.ts`) && !imported.has(file),
    );
  expect(missing).toEqual([]);
});

it('every other file is walked through by a test', () => {
  const reached = new Set<string>();
  const open = [...tests];
  for (let file = open.pop(); file !== undefined; file = open.pop()) {
    if (reached.has(file)) continue;
    reached.add(file);
    const run = RUN_BY[file];
    open.push(
      ...importsOf(file).filter((target) => !reached.has(target)),
      ...(run === undefined ? [] : [run]),
    );
  }
  expect(sources.filter((file) => !reached.has(file))).toEqual([]);
});
