/** The guide to messages says what the program says, with each code that a person can meet and no other. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ERROR_CODES, exitStatusOf, httpStatusOf, ServiceError } from '../../src/errors.js';
import { ALL } from '../../src/languages/all.js';
import { riderTextsFor } from '../../src/languages/index.js';
import { voiceOf } from '../../src/web/viewer.js';

const ROOT = resolve(import.meta.dirname, '../..');
const GUIDE = readFileSync(join(ROOT, 'docs/MESSAGES.md'), 'utf8');

/** The rows of a part of the guide, by their code. */
function rowsOf(title: string): ReadonlyMap<string, readonly string[]> {
  const [, part = ''] = GUIDE.split(`\n## ${title}\n`);
  const rows = [...part.split('\n## ')[0]!.matchAll(/^\| `([a-z-]+)` \| (.*) \|$/gm)];
  return new Map(rows.map(([, code, rest]) => [code!, rest!.split(' | ')]));
}

const sourcesIn = (...folders: readonly string[]): string =>
  folders
    .flatMap((folder) =>
      readdirSync(join(ROOT, 'src', folder), { recursive: true, encoding: 'utf8' })
        .filter((name) => name.endsWith('.ts'))
        .map((name) => readFileSync(join(ROOT, 'src', folder, name), 'utf8')),
    )
    .join('\n');

/** Codes as problems are made with them: by name, after an outcome, in a pair with their message, or as a field. */
function codesIn(source: string): string[] {
  const forms = [
    /\b(?:problem|setAside|noRide|refused)\(\s*(?:'(?:no-ride|set-aside)',\s*)?'([a-z-]+)'/g,
    /\[\s*'([a-z]+(?:-[a-z]+)*)',\s*['`][A-Z]/g,
    /\bcode: '([a-z-]+)', reason:/g,
    /(?:\?|:|\?\?) '(cut-off|checksum)'/g,
  ];
  return [
    ...new Set(forms.flatMap((form) => [...source.matchAll(form)].flatMap(([, ...codes]) => codes))),
  ].filter((code) => code !== undefined && !['no-ride', 'set-aside'].includes(code));
}

const sorted = (codes: Iterable<string>): string[] => [...new Set(codes)].sort();

describe('the guide to messages', () => {
  it('lists the questions of the tray as it asks them', () => {
    const rows = rowsOf('Questions of the tray');
    const asked = voiceOf('en').texts.tray.question as Readonly<Record<string, string>>;
    expect(sorted(rows.keys())).toEqual(sorted(Object.keys(asked)));
    for (const [code, [text]] of rows) expect(text, code).toBe(asked[code]);
  });

  it('lists what files are told, as riders read it', () => {
    const rows = rowsOf('Files');
    const { why } = riderTextsFor('en').own.files;
    const made = [...codesIn(sourcesIn('files')), ...codesIn(sourcesIn('inbox', 'flow', 'core'))];
    expect(made.length).toBeGreaterThan(10);
    const own = ['fault', 'disk-failed', 'empty-archive'];
    expect(sorted(rows.keys())).toEqual(sorted([...made, ...Object.keys(why), ...own]));
    for (const [code, [text]] of rows) if (code in why) expect(text, code).toBe(why[code]);
  });

  it('lists what was odd in files, as the page of a ride tells it', () => {
    const { notes } = voiceOf('en').texts.ride;
    const rows = rowsOf('What was odd in a file');
    expect(Object.fromEntries([...rows].map(([code, [text]]) => [code, text]))).toEqual(notes);
    const codes = readFileSync(join(ROOT, 'src/core/ground/samples/notes.ts'), 'utf8');
    const found = [...codes.matchAll(/^ {2}\| '([a-z-]+)'/gm)];
    expect(found.length).toBeGreaterThan(20);
    expect(sorted(rows.keys())).toEqual(sorted(found.map(([, code]) => code!)));
  });

  it('lists the faults of import files', () => {
    const made = codesIn(sourcesIn('cli'));
    expect(sorted(rowsOf('Import files').keys())).toEqual(sorted(made));
  });

  it('lists the faults of mails', () => {
    const made = [...sourcesIn('mail').matchAll(/\bproblem\(\s*'([a-z-]+)'/g)].map(([, code]) => code!);
    expect(sorted(rowsOf('Mails').keys())).toEqual(sorted(made));
  });

  it('lists what the ledger refuses, in its words', () => {
    const [, table = ''] = readFileSync(join(ROOT, 'src/languages/en/refusals.ts'), 'utf8').split(
      'const refusals',
    );
    const parts = table.split(/^ {2}'?([a-z]+(?:-[a-z]+)*)'?: \(/m).slice(1);
    const told = new Map<string, string>();
    for (let i = 0; i < parts.length; i += 2) {
      const [, body = ''] = parts[i + 1]!.split(/=>([\s\S]*)/);
      const [, template, plain] = /`([^`]*)`|'([^'\n]* [^'\n]*)'/.exec(body)!;
      told.set(
        parts[i]!,
        (template ?? plain)!
          .replace(/\$\{around\.fact\(\w+\)\}/g, '')
          .replace(/\$\{around\.words\.ground\.(\w+)\}/g, '$1')
          .replace(/\$\{(?:[^{}]|\{[^}]*\})*\}/g, '…'),
      );
    }
    expect(sorted(told.keys())).toEqual(sorted(Object.keys(ALL.en.refusals)));
    const rows = rowsOf('What the ledger refuses');
    expect(Object.fromEntries([...rows].map(([code, [text]]) => [code, text]))).toEqual(
      Object.fromEntries(told),
    );
  });

  it('lists the codes of failed work, with exit status and HTTP status', () => {
    const rows = rowsOf('Failed work');
    expect(sorted(rows.keys())).toEqual(sorted(ERROR_CODES));
    for (const code of ERROR_CODES) {
      const error = new ServiceError(code, 'It failed.');
      const told = rows.get(code)!.slice(0, 2);
      expect(told, code).toEqual([exitStatusOf(error), httpStatusOf(error)].map(String));
    }
  });
});
