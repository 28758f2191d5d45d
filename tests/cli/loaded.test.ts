/** What a command loads before it runs is seen in its imports: only those that stand at the top of a file count. */
import { readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { expect, test } from 'vitest';

const ROOT = resolve(import.meta.dirname, '../..');

/** Every file and package that is loaded with a file. */
function loadedWith(file: string): Set<string> {
  const loaded = new Set<string>();
  const walk = (path: string): void => {
    if (loaded.has(path)) return;
    loaded.add(path);
    const text = readFileSync(join(ROOT, path), 'utf8').replace(/^import type .*?;$/gms, '');
    for (const [, name] of text.matchAll(/^(?:import|export)\b[^;']*?\bfrom\s+'([^']+)'/gm)) {
      if (!name!.startsWith('.')) loaded.add(name!);
      else walk(relative(ROOT, resolve(ROOT, dirname(path), name!)).replace(/\.js$/, '.ts'));
    }
  };
  walk(file);
  return loaded;
}

const rooms = (loaded: ReadonlySet<string>): string[] =>
  [
    ...new Set([...loaded].filter((path) => path.startsWith('src/')).map((path) => path.split('/')[1]!)),
  ].sort();

test('the commands are defined without what they do', () => {
  const loaded = loadedWith('src/cli/main.ts');
  expect(loaded).toContain('src/cli/definitions/book.ts');
  expect([...loaded].filter((path) => path.includes('cli/commands'))).toEqual([]);
  expect(
    rooms(loaded).filter((room) => ['flow', 'store', 'web', 'mail', 'files', 'main'].includes(room)),
  ).toEqual([]);
});

test('look loads neither store nor main, and no parser that its file does not need', () => {
  const loaded = loadedWith('src/cli/commands/look.ts');
  expect(loaded).toContain('src/files/archives/openFile.ts');
  expect(rooms(loaded)).not.toContain('store');
  expect(rooms(loaded)).not.toContain('main');
  for (const name of ['src/main.ts', 'saxes', 'fit-file-parser', 'yauzl', 'kysely', 'zod'])
    expect(loaded).not.toContain(name);
});

test('look loads the texts that it says and no zones, and a track no parser of another format', () => {
  const loaded = ['src/cli/main.ts', 'src/cli/commands/look.ts', 'src/files/gpx/readGpx.ts'].flatMap(
    (file) => [...loadedWith(file)],
  );
  expect(loaded).toContain('saxes');
  expect(loaded).not.toContain('temporal-polyfill');
  expect(loaded).not.toContain('fit-file-parser');
  expect(loaded.filter((path) => path.startsWith('src/languages/')).sort()).toEqual([
    'src/languages/en/pages/ride.ts',
    'src/languages/en/pages/tray.ts',
    'src/languages/explanation.ts',
  ]);
});

test('only what serves loads pages', () => {
  const loaded = loadedWith('src/main.ts');
  expect(loaded).toContain('src/store/open.ts');
  expect([...loaded].filter((path) => path === 'hono' || path === 'src/web/app.ts')).toEqual([]);
});
