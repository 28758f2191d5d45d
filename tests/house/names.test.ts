/** A name means one thing: whoever reads it in one room need not ask which of several it is. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, it } from 'vitest';

const ROOT = resolve(import.meta.dirname, '../..');

interface Named {
  readonly file: string;
  readonly name: string;
  readonly isExported: boolean;
}

const types = readdirSync(join(ROOT, 'src'), { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.ts'))
  .flatMap((file): Named[] =>
    [
      ...readFileSync(join(ROOT, 'src', file), 'utf8').matchAll(
        /^(export )?(?:interface|type|class) ([A-Z]\w*)/gm,
      ),
    ].map(([, exported, name]) => ({ file, name: name!, isExported: exported !== undefined })),
  );

it('a type that rooms share has a name that no other type has', () => {
  const shared = new Map(types.filter(({ isExported }) => isExported).map((one) => [one.name, one.file]));
  expect(shared.size).toBeGreaterThan(300);
  const twice = types.filter(({ file, name }) => shared.has(name) && shared.get(name) !== file);
  expect(twice.map(({ file, name }) => `${name}: ${file}, and ${shared.get(name)}`)).toEqual([]);
});
