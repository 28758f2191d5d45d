/** The package as strangers get it: packed, put into an empty folder, and run from there. */
import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import { fitRide, SPORT, SUB_SPORT } from '../../samples/fitRide.js';
import { seasonOf } from '../../samples/season.js';
import { PROGRAM, scratchFolder } from '../fixtures/program.js';

const ROOT = resolve(import.meta.dirname, '../..');
/** Units: milliseconds. */
const PATIENCE_MS = 120_000;
const ONE_DAY = '2025-06-18';

interface Packed {
  readonly filename: string;
  readonly files: readonly { readonly path: string; readonly mode: number }[];
}

function run(folder: string, program: string, ...args: readonly string[]) {
  const { PATH, HOME, TMPDIR } = process.env;
  const env = { PATH, HOME, TMPDIR, NO_COLOR: '1' };
  const ran = spawnSync(program, args, { cwd: folder, env, encoding: 'utf8', timeout: PATIENCE_MS });
  return { status: ran.status, stdout: ran.stdout, stderr: ran.stderr };
}

/** The build is there already, and other tests are using it: nothing is built anew. */
function pack(into: string): Packed {
  if (!existsSync(PROGRAM))
    throw new Error('The program is not built: npm run build comes before these tests.');
  const { status, stdout, stderr } = run(
    ROOT,
    'npm',
    ...['pack', '--json', '--ignore-scripts', '--pack-destination', into],
  );
  if (status !== 0) throw new Error(stderr);
  return (JSON.parse(stdout) as readonly Packed[])[0]!;
}

const read = (name: string): string => readFileSync(join(ROOT, name), 'utf8');

test('holds the program, its tables, its demo and its guides, and neither tests nor what was built beside', () => {
  const { files } = pack(scratchFolder());
  const paths = files.map(({ path }) => path);
  const { bin, types, exports } = JSON.parse(read('package.json')) as {
    readonly bin: Record<string, string>;
    readonly types: string;
    readonly exports: { readonly '.': Record<string, string> };
  };
  const named = [...Object.values(bin), types, ...Object.values(exports['.'])].map((path) =>
    path.replace(/^\.\//, ''),
  );
  for (const path of [...named, 'LICENSE', 'README.md', 'CHANGELOG.md', 'deploy/Containerfile'])
    expect(paths).toContain(path);
  for (const folder of ['src', 'workers', 'migrations', 'samples']) {
    const sources = readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.ts'))
      .map((name) => `dist/${folder}/${name.replace(/\.ts$/, '.js')}`);
    expect(sources.filter((path) => !paths.includes(path))).toEqual([]);
  }
  const others = paths.filter(
    (path) => !/^(dist\/(src|workers|migrations|samples)|docs|deploy)\//.test(path) && path.includes('/'),
  );
  expect(others).toEqual([]);
  expect(paths.filter((path) => /test|\.map$|\.fit$|\.gpx$/.test(path))).toEqual([]);
});

const registry = run(ROOT, 'npm', ...['ping', '--fetch-retries=0', '--fetch-timeout=10000']);
const isReached = registry.status === 0 || process.env.CI !== undefined;
const whyNot = isReached ? '' : ' (left out: the registry of packages is out of reach)';

test.skipIf(!isReached)(
  `installed in an empty folder, runs the demo and gives other programs what it promises${whyNot}`,
  { timeout: 2 * PATIENCE_MS },
  () => {
    const folder = scratchFolder();
    const { filename } = pack(folder);
    writeFileSync(join(folder, 'package.json'), '{"type": "module", "private": true}');
    const installed = run(
      folder,
      'npm',
      ...[
        'install',
        join(folder, filename),
        '--ignore-scripts',
        '--prefer-offline',
        '--no-audit',
        '--no-fund',
      ],
    );
    expect(installed, installed.stderr).toMatchObject({ status: 0 });
    // Its own script compiles the database driver for minutes; it was compiled for this machine already.
    const driver = join('node_modules', 'better-sqlite3', 'build');
    cpSync(join(ROOT, driver), join(folder, driver), { recursive: true, dereference: true });

    const demo = run(
      folder,
      'npx',
      ...['--no-install', 'stanchion', 'demo', '--once', '--data', 'demo', '--now', `${ONE_DAY}T12:00:00Z`],
    );
    expect(demo, demo.stderr).toMatchObject({ status: 0 });
    expect(demo.stdout).toMatch(/A mail to a rider/);
    expect(demo.stdout).toMatch(/The workshop’s mail of the day/);
    expect(demo.stdout).toMatch(/Terrain hours \(an estimate\)|estimate/);
    const check = run(folder, 'npx', ...['--no-install', 'stanchion', 'check', '--json', '--data', 'demo']);
    expect(JSON.parse(check.stdout)).toMatchObject({ ok: true });

    const example = /## As a library[\s\S]*?```ts\n([\s\S]*?)```/.exec(read('DEVELOPERS.md'))![1]!;
    writeFileSync(join(folder, 'example.ts'), example);
    const ride = seasonOf(ONE_DAY).find(({ bike }) => bike === 'b4')!;
    writeFileSync(
      join(folder, 'ride.fit'),
      fitRide(ride.ridden, {
        sport: SPORT.cycling,
        subSport: SUB_SPORT.mountain,
        recorderSerial: 990_001,
        sensors: [],
      }),
    );
    const types = join(folder, 'node_modules', '@types');
    mkdirSync(types, { recursive: true });
    for (const name of ['@types/node', 'undici-types'])
      cpSync(join(ROOT, 'node_modules', name), join(dirname(types), name), { recursive: true });
    const compiled = run(
      folder,
      process.execPath,
      join(ROOT, 'node_modules/typescript/bin/tsc'),
      ...['--strict', '--module', 'nodenext', '--target', 'es2023', '--types', 'node', 'example.ts'],
    );
    expect(compiled, compiled.stdout).toMatchObject({ status: 0 });
    const told = run(folder, process.execPath, 'example.js');
    expect(told, told.stderr).toMatchObject({ status: 0 });
    const [moving, terrain] = [...told.stdout.matchAll(/[\d.]+(?= h)/g)].map(Number);
    expect(Math.abs(moving! / ride.movingHours - 1)).toBeLessThan(0.01);
    expect(Math.abs(terrain! / ride.terrainHours - 1)).toBeLessThan(0.2);
    expect(told.stdout).toMatch(/An estimate: ground/);
  },
);
