/** What the guides name is there, and what a user needs is named in them. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { programOf } from '../../src/cli/program.js';
import { SETTINGS } from '../../src/config.js';

const ROOT = resolve(import.meta.dirname, '../..');
const read = (name: string): string => readFileSync(join(ROOT, name), 'utf8');
const README = read('README.md');
const GUIDES = ['README.md', 'DEVELOPERS.md', 'CHANGELOG.md', 'tests/bench/evidence/README.md', ...inDocs()];

function inDocs(): string[] {
  if (!existsSync(join(ROOT, 'docs'))) return [];
  return readdirSync(join(ROOT, 'docs'), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.md'))
    .map((name) => `docs/${name}`);
}

/** Settings of tests and of long runs, which the program does not read. */
const OF_TESTS = /^STANCHION_(RECORDINGS|BUILT|KILLS|SEED|RUNS|PICTURES|MACHINE_KILLS|FUZZ\w*)$/;

describe('settings', () => {
  it('are each in the table of the README', () => {
    expect(SETTINGS.length).toBeGreaterThan(10);
    const table = README.slice(README.indexOf('## Settings'));
    const missing = SETTINGS.filter((name) => !table.includes(`\`${name}\``));
    expect(missing).toEqual([]);
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

  it('stand in the README’s table as the program itself describes them', () => {
    const rows = commands.map((command) => {
      const usage = `${command.name()} ${command.usage().replace(/\[options\] ?/, '')}`.trim();
      return `| \`${usage.replaceAll('|', '\\|')}\` | ${command.description()} |`;
    });
    const table = README.slice(README.indexOf('## Commands'));
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

it('scripts that a guide names are in the package', () => {
  const { scripts } = JSON.parse(read('package.json')) as { scripts: Record<string, string> };
  for (const guide of GUIDES)
    for (const [, name] of read(guide).matchAll(/npm run (?:--silent )?([a-z-]+)/g))
      expect(scripts, guide).toHaveProperty(name!);
});
