/** Nothing is built that only tests call: every export, and every method of a port, has a caller in the program. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';

const ROOT = resolve(import.meta.dirname, '../..');

const sources = ['src', 'workers', 'migrations', 'samples'].flatMap((folder) =>
  readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.ts'))
    .map((file) => ({ file: `${folder}/${file}`, text: textOf(`${folder}/${file}`) })),
);

/** Without comments, in which a name is no use of it. */
function textOf(file: string): string {
  return readFileSync(join(ROOT, file), 'utf8')
    .replace(/\/\*[\s\S]*?\*\//g, '')
    .replace(/^\s*\/\/.*$/gm, '');
}

const DECLARED = /^export (?:async )?(?:const|function\*?|class|interface|type) (\w+)/gm;

/** Each word with how often it stands in the program. */
const words = new Map<string, number>();
for (const { text } of sources)
  for (const [word] of text.matchAll(/\w+/g)) words.set(word, (words.get(word) ?? 0) + 1);

/** Lists that the guides are held to by their tests. */
const FOR_GUIDES = ['SETTINGS', 'DEFAULTS', 'ERROR_CODES'];

test('every export is used in the program, beside where it is declared', () => {
  const declared = sources
    // Kysely calls them by their names.
    .filter(({ file }) => !/^migrations\/\d/.test(file))
    .flatMap(({ file, text }) => [...text.matchAll(DECLARED)].map(([, name]) => ({ file, name: name! })));
  expect(declared.length).toBeGreaterThan(800);
  const unused = declared.filter(({ name }) => (words.get(name) ?? 0) < 2 && !FOR_GUIDES.includes(name));
  expect(unused.map(({ file, name }) => `${file}: ${name}`)).toEqual([]);
});

/** Who gives a port is no caller of it. */
const callers = sources
  .filter(({ file }) => !/^src\/(?:ports|store|inbox|files|mail)\//.test(file))
  .map(({ text }) => text)
  .join('\n');

/** The methods of an interface, by its name. */
function methodsOf(name: string): string[] {
  const found = sources
    .filter(({ file }) => file.startsWith('src/ports/'))
    .map(
      ({ text }) =>
        new RegExp(`export interface ${name} (?:extends [^{]+)?\\{([\\s\\S]*?)^\\}`, 'm').exec(text)?.[1],
    )
    .find((body) => body !== undefined);
  return [...(found ?? '').matchAll(/^ {2}(\w+)(?:<[^>]+>)?\(/gm)].map(([, method]) => method!);
}

test('every method of a transaction’s tables has a caller', () => {
  const store = textOf('src/ports/store.ts');
  const tables = [...store.matchAll(/readonly (\w+): (\w+(?:Table|Mark));/g)].map(([, key, table]) => ({
    key: key!,
    methods: methodsOf(table!),
  }));
  expect(tables.length).toBeGreaterThan(15);
  const uncalled = tables.flatMap(({ key, methods }) => {
    expect(methods.length, key).toBeGreaterThan(0);
    return methods
      .filter((method) => !new RegExp(`\\b${key}\\s*\\.${method}\\b`).test(callers))
      .map((method) => `${key}.${method}`);
  });
  expect(uncalled).toEqual([]);
});

test.each([
  'Inbox',
  'KeptOriginals',
  'Originals',
  'Forgetting',
  'Backups',
  'Mailer',
  'MailWriter',
  'RideReader',
  'Seal',
  'Store',
])('every method of %s has a caller', (name) => {
  const methods = methodsOf(name);
  expect(methods.length).toBeGreaterThan(0);
  expect(methods.filter((method) => !new RegExp(`\\.${method}\\b`).test(callers))).toEqual([]);
});
