/** The page on safety names tests; they must be there, and every attack that is tested must be on the page. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, it } from 'vitest';
import { hostileWorld } from '../attacks/hostileWorld.js';

const ROOT = resolve(import.meta.dirname, '../..');
const page = readFileSync(join(ROOT, 'docs/SAFETY.md'), 'utf8');
const textOf = (file: string): string => readFileSync(join(ROOT, file), 'utf8').replaceAll("\\'", "'");

/** Titles as they stand in a file, without why a test may be left out: behind `it(`, `test(`, or the rows of `each`. */
const titlesOf = (file: string): string[] =>
  [
    ...textOf(file).matchAll(
      /\b(?:it|test|real)(?:\.(?:skip|run)If\([^)]*\)|\.each\((?:[^()]|\([^()]*\))*\))?\(\s*(?:'((?:[^'\n]|'(?!,))*)'|"([^"\n]*)"|`([^`]*)`),/g,
    ),
  ].map(([, single, double, back]) => (single ?? double ?? back)!.replace(/\$\{[A-Z_]+\}$/, ''));

const named = [...page.matchAll(/`(tests\/[\w/.]+\.test\.ts)`: “([^”]+)”/g)].map(([, file, title]) => ({
  file: file!,
  title: title!,
}));

it('every test that it names is there', () => {
  expect(named.length).toBeGreaterThan(80);
  const missing = named.filter(({ file, title }) => !titlesOf(file).includes(title));
  expect(missing).toEqual([]);
});

it('every attack that is tested is named', () => {
  const files = readdirSync(join(ROOT, 'tests/attacks')).filter((name) => name.endsWith('.test.ts'));
  const attacks = files.flatMap((name) =>
    titlesOf(`tests/attacks/${name}`).map((title) => ({ file: `tests/attacks/${name}`, title })),
  );
  expect(attacks.length).toBeGreaterThan(20);
  const known = new Set(named.map(({ file, title }) => `${file} ${title}`));
  expect(attacks.filter(({ file, title }) => !known.has(`${file} ${title}`))).toEqual([]);
});

it('each row says what shows it, or that it is not met', () => {
  const promises = page.slice(page.indexOf('## Nothing lost'));
  const rows = promises.split('\n').filter((line) => /^\| (?!---)/.test(line) && !line.endsWith('| test |'));
  const silent = rows.filter((row) => !/“[^”]+”|\| not met: /.test(row));
  expect(silent).toEqual([]);
});

it('counts its attacks right', () => {
  const table = page.slice(page.indexOf('## Attacks'), page.indexOf('## OWASP'));
  const rows = table.split('\n').filter((line) => /^\| (?!---|attack )/.test(line)).length;
  expect(/\| kinds of attack \| (\d+)/.exec(page)?.[1]).toBe(String(rows));
});

it('tells of no more pages and forms than there are', async () => {
  const { app } = await hostileWorld();
  const pathsOf = (method: string): number =>
    new Set(app.routes.filter((route) => route.method === method).map(({ path }) => path)).size;
  const [, pages, forms] = /at least (\d+) pages and (\d+) forms/.exec(page)!;
  expect(pathsOf('GET')).toBeGreaterThanOrEqual(Number(pages));
  expect(pathsOf('POST')).toBeGreaterThanOrEqual(Number(forms));
});
