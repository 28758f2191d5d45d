/** What the guides name is there, and what a user needs is named in them. */
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { programOf } from '../../src/cli/program.js';
import { DEFAULTS, SETTINGS } from '../../src/config.js';
import { ROUTES } from '../../src/web/routes.js';
import { LARGEST_PICTURE, OF_A_RIDER, PICTURES } from '../pictures/pictures.js';

const ROOT = resolve(import.meta.dirname, '../..');
const read = (name: string): string => readFileSync(join(ROOT, name), 'utf8');
const REFERENCE = read('docs/SETTINGS.md');
const GUIDES = ['README.md', 'DEVELOPERS.md', 'CHANGELOG.md', 'tests/bench/evidence/README.md', ...inDocs()];

function inDocs(): string[] {
  if (!existsSync(join(ROOT, 'docs'))) return [];
  return readdirSync(join(ROOT, 'docs'), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.md'))
    .map((name) => `docs/${name}`);
}

/** Settings of tests and of long runs, which the program does not read. */
const OF_TESTS = /^STANCHION_(RECORDINGS|BUILT|KILLS|SEED|RUNS|SEASON_DAYS|PICTURES|MACHINE_KILLS|FUZZ\w*)$/;

describe('settings', () => {
  it('are each in the table of the reference, with the default that the program takes', () => {
    expect(SETTINGS.length).toBeGreaterThan(10);
    const rows = REFERENCE.split('\n').filter((line) => line.startsWith('| `'));
    for (const name of SETTINGS) {
      const cells = rows.find((row) => row.includes(`\`${name}\``))?.split(' | ');
      expect(cells, name).toBeDefined();
      const at = cells![0]!.split(', ').findIndex((one) => one.includes(name));
      const told = cells![1]!.split(', ')[at]?.replaceAll('`', '');
      if (name in DEFAULTS) expect(told, name).toBe(String(DEFAULTS[name as keyof typeof DEFAULTS]));
    }
  });

  it('that a guide names are read by the program', () => {
    for (const guide of GUIDES) {
      const named = [...read(guide).matchAll(/\bSTANCHION_[A-Z_]*[A-Z]\b/g)].map(([name]) => name);
      const unknown = named.filter((name) => !SETTINGS.includes(name) && !OF_TESTS.test(name));
      expect(unknown, guide).toEqual([]);
    }
  });
});

describe('commands', () => {
  const commands = programOf().commands;

  it('stand in the reference as the program itself describes them', () => {
    const rows = commands.map((command) => {
      const usage = `${command.name()} ${command.usage().replace(/\[options\] ?/, '')}`.trim();
      return `| \`${usage.replaceAll('|', '\\|')}\` | ${command.description()} |`;
    });
    const table = REFERENCE.slice(REFERENCE.indexOf('## Commands'));
    expect([...table.matchAll(/^\| `.*/gm)].map(([row]) => row)).toEqual(rows);
  });

  it('that a guide names are there, with the options that it gives them', () => {
    for (const guide of GUIDES)
      for (const [line, name] of read(guide).matchAll(/\bstanchion ([a-z]+)\b[^`\n|]*/g)) {
        const command = commands.find((one) => one.name() === name);
        expect(command, `${guide}: ${line}`).toBeDefined();
        const known = command!.options.map((option) => option.long);
        for (const [flag] of line.matchAll(/--[a-z][a-z-]*/g))
          expect(known, `${guide}: ${line}`).toContain(flag);
      }
  });
});

it('paths that a guide names are there', () => {
  for (const guide of GUIDES)
    for (const [, target] of read(guide).matchAll(/\]\(([^)#:]+)(?:#[^)]*)?\)/g))
      expect(existsSync(join(ROOT, dirname(guide), target!)), `${guide}: ${target}`).toBe(true);
});

describe('pictures', () => {
  const there = readdirSync(join(ROOT, 'docs/pictures')).map((name) => `docs/pictures/${name}`);

  it('are each shown by a guide, and small', () => {
    const shown = new Set(
      GUIDES.flatMap((guide) =>
        [...read(guide).matchAll(/!\[[^\]]+\]\(([^)]+)\)/g)].map(([, target]) =>
          join(dirname(guide), target!).replaceAll('\\', '/'),
        ),
      ),
    );
    expect([...shown].sort()).toEqual([...there].sort());
    for (const picture of there)
      expect(statSync(join(ROOT, picture)).size).toBeLessThanOrEqual(LARGEST_PICTURE);
  });

  it('are those that the script takes, of pages that there are', () => {
    const taken = [...PICTURES.map(({ name }) => name), ...Object.values(OF_A_RIDER)];
    expect(taken.map((name) => `docs/pictures/${name}.png`).sort()).toEqual([...there].sort());
    const pages = Object.keys(ROUTES).map((route) => new RegExp(`^${route.replace(/:\w+/g, '[^/]+')}$`));
    for (const { path } of PICTURES)
      expect(
        pages.some((page) => page.test(`GET ${path}`)),
        path,
      ).toBe(true);
  });
});

it('scripts that a guide names are in the package', () => {
  const { scripts } = JSON.parse(read('package.json')) as { scripts: Record<string, string> };
  for (const guide of GUIDES)
    for (const [, name] of read(guide).matchAll(/npm run (?:--silent )?([a-z-]+)/g))
      expect(scripts, guide).toHaveProperty(name!);
});

describe('guides', () => {
  /** The heading of GitHub's own anchors: small letters, no marks, a hyphen for each space. */
  const anchorsOf = (guide: string): string[] =>
    [...read(guide).matchAll(/^#+ (.*)$/gm)].map(([, head]) =>
      head!
        .toLowerCase()
        .replace(/[^\p{L}\p{N} _-]/gu, '')
        .replaceAll(' ', '-'),
    );

  it('lead to headings that are there', () => {
    let links = 0;
    for (const guide of GUIDES)
      for (const [, target, anchor] of read(guide).matchAll(/\]\(([^)#:]*)#([^)]+)\)/g)) {
        const file = target === '' ? guide : join(dirname(guide), target!);
        if (!file.endsWith('.md')) continue;
        links += 1;
        expect(anchorsOf(file), `${guide}: ${target}#${anchor}`).toContain(anchor);
      }
    expect(links).toBeGreaterThan(15);
  });

  const WALKS = ['README', 'RIDER', 'WORKSHOP', 'MECHANIC', 'PROXY', 'UPKEEP'].map((name) =>
    name === 'README' ? 'README.md' : `docs/${name}.md`,
  );

  it('end with what the reader does next, and report no trial', () => {
    for (const guide of [...WALKS, 'docs/CICLISTA.md']) {
      const heads = read(guide).match(/^## .*$/gm)!;
      expect(heads.at(-1), guide).toBe(guide === 'docs/CICLISTA.md' ? '## A seguir' : '## Next');
      expect(read(guide), guide).not.toMatch(/newcomer|how long it took|busy cores|is tried\b|tried with/i);
    }
  });

  it('for riders say the same in both languages, section by section', () => {
    const shape = (guide: string): string[] =>
      read(guide)
        .split('\n')
        .filter((line) => /^(#|\||- |!)/.test(line))
        .map((line) => line.match(/^#+|^./)![0]);
    const pictures = (shapes: string[]): string[] => shapes.filter((one) => one !== '!');
    expect(pictures(shape('docs/CICLISTA.md'))).toEqual(pictures(shape('docs/RIDER.md')));
  });
});
