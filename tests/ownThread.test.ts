/** Node 20 ends the program where a thread ends while another thread compiles for it; so none does. */
import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { expect, it } from 'vitest';
import { BUILT, scratchFolder } from './fixtures/program.js';

const HOT = (name: string): string =>
  `function ${name}(x) { let sum = 0; for (let i = 0; i < 1000; i += 1) sum += i * x; return sum; }
for (let i = 0; i < 20000; i += 1) ${name}(i);
`;

it('a thread compiles its own code, and the program’s own thread leaves that to others as before', () => {
  const folder = scratchFolder();
  const thread = pathToFileURL(join(folder, 'thread.mjs'));
  const built = pathToFileURL(join(BUILT, 'src/ownThread.js'));
  writeFileSync(join(folder, 'thread.mjs'), HOT('inThread'));
  writeFileSync(
    join(folder, 'main.mjs'),
    `import { startThread } from '${built}';
await new Promise((done) => startThread(new URL('${thread}'), {}).on('exit', done));
${HOT('inProgram')}`,
  );
  const { status, stdout } = spawnSync(process.execPath, ['--trace-opt', join(folder, 'main.mjs')], {
    encoding: 'utf8',
  });
  expect(status).toBe(0);
  const modesOf = (name: string): string[] => {
    const told = stdout
      .split('\n')
      .filter((line) => line.includes('compiling method') && line.includes(` ${name} `));
    return [...new Set(told.flatMap((line) => /ConcurrencyMode::(\w+)/.exec(line)?.[1] ?? []))];
  };
  expect(modesOf('inThread')).toEqual(['kSynchronous']);
  expect(modesOf('inProgram')).toEqual(['kConcurrent']);
});

it('no thread is started in another way', () => {
  const src = resolve(import.meta.dirname, '../src');
  const all = readdirSync(src, { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.ts'));
  const starting = all.filter((name) => readFileSync(join(src, name), 'utf8').includes('new Worker('));
  expect(starting).toEqual(['ownThread.ts']);
});
