/** Every label that people see is made of words that the guide lists, each with where it is from. */
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, it } from 'vitest';
import { mails as mail } from '../../src/languages/en/mails.js';
import { pages as web } from '../../src/languages/en/pages/index.js';
import { rider } from '../../src/languages/en/rider/index.js';
import { terms as words } from '../../src/languages/en/terms.js';
import { isLabel, textsOf } from '../fixtures/texts.js';

const GUIDE = readFileSync(join(resolve(import.meta.dirname, '../..'), 'WORDS.md'), 'utf8');
const SHOWN = { web, rider, mail, words: { ...words, locale: '', name: '', nameFault: {} } };
/** Names of languages, in which each is written. */
const AS_WRITTEN = /\.languages?\./;

/** Some choose a text by a value that the marks here are not. */
const all = textsOf(SHOWN).filter(([, text]) => !text.includes('undefined'));
const labels = all.filter(([path, text]) => isLabel(text) && !AS_WRITTEN.test(path));

/** Term and where it is from, by the rows of the guide's table. */
const terms = [...GUIDE.matchAll(/^\| ([^|]+?) \| ([^|]+?) \|(?: ([^|]+?) \|)?$/gm)]
  .map(([, term = '', from = '']) => [term.toLowerCase(), from] as const)
  .filter(([term]) => term !== 'word' && !/^-+$/.test(term));

const everyday = new Set(
  (/## Everyday words\n[\s\S]*?\n\n([\s\S]+?)\n(?:\n|$)/.exec(GUIDE)?.[1] ?? '')
    .split(/\s+/)
    .filter((one) => one !== ''),
);

const wordsIn = (text: string): string[] => text.toLowerCase().match(/\p{L}[\p{L}’'-]*/gu) ?? [];
const longestFirst = [...terms].sort(([a], [b]) => b.length - a.length);

/** What is left of a label once the guide's terms, alone or as several, are taken out. */
function withoutTerms(text: string): string {
  let left = ` ${wordsIn(text).join(' ')} `;
  for (const [term] of longestFirst)
    for (const form of [term, `${term}s`]) left = left.replaceAll(` ${form} `, '  ');
  return left;
}

it('the guide says of each term whether it is from a standard, from the trade or our own', () => {
  expect(terms.length).toBeGreaterThan(80);
  for (const [term, from] of terms) expect(from, term).toMatch(/^(standard: .+|trade|own)$/);
  expect(new Set(terms.map(([term]) => term)).size).toBe(terms.length);
});

it('each label is made of the guide’s terms and of everyday words: a new one is added to WORDS.md', () => {
  expect(labels.length).toBeGreaterThan(400);
  const unknown = labels.flatMap(([path, text]) =>
    wordsIn(withoutTerms(text))
      .filter((word) => !everyday.has(word))
      .map((word) => `${word}, in "${text}" (${path})`),
  );
  expect(unknown).toEqual([]);
});

it('the guide lists nothing that no text uses, and no term as an everyday word', () => {
  const used = ` ${all.flatMap(([, text]) => wordsIn(text)).join(' ')} `;
  const isUsed = (term: string): boolean => used.includes(` ${term} `) || used.includes(` ${term}s `);
  expect(terms.map(([term]) => term).filter((term) => !isUsed(term))).toEqual([]);
  expect([...everyday].filter((word) => !isUsed(word))).toEqual([]);
  expect(terms.map(([term]) => term).filter((term) => everyday.has(term))).toEqual([]);
});

it('no label holds a word that belongs to other trades’ pages', () => {
  const avoided = /\b(segments?|gears?|garages?|activit(y|ies)|efforts?)\b/i;
  expect(all.filter(([, text]) => avoided.test(text))).toEqual([]);
});
