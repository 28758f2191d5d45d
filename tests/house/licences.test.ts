/** What stands in the lockfile, and under which licence; `npm run licences` writes the list anew. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { expect, it } from 'vitest';

const ROOT = resolve(import.meta.dirname, '../..');

/** Licences under which a program of MIT licence may pass a package on. */
const MAY_SHIP = ['MIT', 'MIT-0', 'ISC', 'BSD-2-Clause', 'BSD-3-Clause', 'Apache-2.0', '0BSD', 'Unlicense'];
/**
 * Of a library that is linked to as it is, in files of its own that anybody may replace: its licence asks no more. Source:
 * LGPL-3.0 section 4.
 */
const MAY_LINK = [
  'LGPL-3.0-or-later',
  'Apache-2.0 AND LGPL-3.0-or-later',
  'Apache-2.0 AND LGPL-3.0-or-later AND MIT',
];
const LINKED = /^@img\/sharp-/;
const MAY_CHOOSE = [
  '(MIT OR WTFPL)',
  '(MIT OR EUPL-1.1+)',
  '(BSD-2-Clause OR MIT OR Apache-2.0)',
  'MIT OR Apache-2.0',
];

interface Locked {
  readonly version: string;
  readonly license?: string;
  readonly dev?: boolean;
  readonly resolved?: string;
  readonly integrity?: string;
}

const { packages } = JSON.parse(readFileSync(resolve(ROOT, 'package-lock.json'), 'utf8')) as {
  packages: Readonly<Record<string, Locked>>;
};
const { dependencies, devDependencies } = JSON.parse(
  readFileSync(resolve(ROOT, 'package.json'), 'utf8'),
) as Record<'dependencies' | 'devDependencies', Record<string, string>>;
const locked = Object.entries(packages).filter(([path]) => path !== '');
const nameOf = (path: string): string =>
  path.slice(path.lastIndexOf('node_modules/') + 'node_modules/'.length);
const shipped = locked.filter(([, one]) => one.dev !== true);

it('every package that ships may be passed on', () => {
  const mayShip = (path: string, license: string): boolean =>
    [...MAY_SHIP, ...MAY_CHOOSE].includes(license) ||
    (LINKED.test(nameOf(path)) && MAY_LINK.includes(license));
  const others = shipped.filter(([path, { license = '' }]) => !mayShip(path, license));
  expect(others.map(([path, { license }]) => `${nameOf(path)}: ${license}`)).toEqual([]);
  expect(shipped.length).toBeGreaterThan(Object.keys(dependencies).length);
});

it('every package is pinned to one version and one content', () => {
  for (const [name, version] of Object.entries({ ...dependencies, ...devDependencies }))
    expect([name, version]).toEqual([name, expect.stringMatching(/^\d+\.\d+\.\d+$/)]);
  for (const [path, one] of locked)
    expect([path, one.integrity]).toEqual([path, expect.stringMatching(/^sha512-/)]);
});

it('the list of what ships is true', async () => {
  const rows = shipped.map(([path, { version, license }]) => `| ${nameOf(path)} | ${version} | ${license} |`);
  const text = `# Packages that ship with Stanchion

Written by \`npm run licences\` from the lockfile; a test holds it to that.

| package | version | licence |
| --- | --- | --- |
${[...new Set(rows)].sort().join('\n')}
`;
  await expect(text).toMatchFileSnapshot('../../docs/LICENCES.md');
});
