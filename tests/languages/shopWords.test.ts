/** What a workshop would not say at its counter stands in no text, of a page, a mail, a refusal or a command. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, it, test } from 'vitest';
import { ALL } from '../../src/languages/all.js';
import { textsOf } from '../fixtures/texts.js';

const ROOT = resolve(import.meta.dirname, '../..');

/** English as nobody says it, with what a shop says instead. */
const ENGLISH: readonly (readonly [RegExp, string])[] = [
  [/\b(waits?|waiting) for (a|your|their) word\b|person’s word/, 'needs an answer'],
  [/\bmarked to be stopped\b|\bhave it seen\b|\bstopped and seen\b/, 'stop riding: have it checked first'],
  [/\bbe quiet until\b/, 'remind me then'],
  [/\bdo(es)? not fit together\b/, 'wrong name or password'],
  [/\bnot from here\b/, 'this form has expired'],
  [/\banew\b|\bafresh\b/, 'again'],
  [/\breckon/, 'counted, recalculated'],
  [/\bparted by\b/, 'separated by'],
  [/\blooks end no\b|\blooks could not be used\b/, 'services could not be used'],
  [/\beight of ten times\b|\beight of ten\b|\btrue place lies\b/, '80 % range'],
  [/\bto have along\b|\bgoes along\b/, 'to take'],
  [/\bwhat to pull\b/, 'jobs for the day'],
  [/\b(make|made) (a|an|another) (account|link|workshop|address)\b/, 'create'],
  [/\bhas not come yet\b|\bnot to come\b/, 'is in the future'],
  [/\bstands? (in no list|in the book|above already|there already)\b/, 'is in the book, is listed already'],
  [/\bmade void\b|\bis void already\b/, 'taken back'],
  [/\bmeanwhile\b.*\b(stands there now|nothing of yours)\b/i, 'has changed this'],
  [/\b(counts|logged) no (more|longer)\b/, 'no longer counts'],
  [/\bclocks? begin/, 'hours start again'],
  [/\bdid not (come|arrive) whole\b/, 'did not arrive in full'],
];

/** Portuguese as no workshop writes it. */
const PORTUGUESE: readonly (readonly [RegExp, string])[] = [
  [/câmaras? de ar/i, 'amortecedor a ar, corpo de ar: the other is an inner tube'],
  [/\bmand(ar|e|ou)(-[ao]s?)? ver\b/i, 'mandar verificar'],
];

const shown = (language: 'en' | 'pt'): [string, string][] => {
  const { terms, mails, pages, rider } = ALL[language];
  return Object.entries({ terms, mails, pages, rider }).flatMap(([of, texts]) => textsOf(texts, of));
};

/** Every text between quotes in the sources of a folder; comments are none. */
const quotedIn = (folder: string): [string, string][] =>
  readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.ts'))
    .flatMap((file) => {
      const code = readFileSync(join(ROOT, folder, file), 'utf8').replace(/^\s*(\/\*\*|\*|\/\/).*$/gm, '');
      const quoted = code.matchAll(/'((?:[^'\\\n]|\\.)*)'|`([^`]*)`|"((?:[^"\\\n]|\\.)*)"/g);
      return [...quoted].map(([, a, b, c]): [string, string] => [`${folder}/${file}`, a ?? b ?? c ?? '']);
    });

const foundIn = (
  texts: readonly [string, string][],
  said: readonly (readonly [RegExp, string])[],
): string[] =>
  texts.flatMap(([where, text]) =>
    said.filter(([not]) => not.test(text)).map(([, better]) => `${where}: “${text}”; say: ${better}`),
  );

it('finds a phrase of the list where there is one', () => {
  expect(foundIn([['somewhere', 'Ride 7 waits for a word.']], ENGLISH)).toHaveLength(1);
  expect(foundIn([['algures', 'Mande-a ver primeiro.']], PORTUGUESE)).toHaveLength(1);
});

test('no English text of pages and mails says it as no shop would', () => {
  const texts = shown('en');
  expect(texts.length).toBeGreaterThan(1500);
  expect(foundIn(texts, ENGLISH)).toEqual([]);
});

test.each(['src/languages/en', 'src/cli', 'src/flow', 'src/core', 'src/files', 'src/inbox', 'src/mail'])(
  'nor does any text in %s',
  (folder) => {
    const texts = quotedIn(folder).filter(([, text]) => / /.test(text));
    expect(texts.length).toBeGreaterThan(5);
    expect(foundIn(texts, ENGLISH)).toEqual([]);
  },
);

test('no Portuguese text says it as no workshop would', () => {
  const texts = [...shown('pt'), ...quotedIn('src/languages/pt')];
  expect(texts.length).toBeGreaterThan(1500);
  expect(foundIn(texts, PORTUGUESE)).toEqual([]);
});

test('on a page and in a mail the way to reach the workshop is one that there is', () => {
  expect(ALL.en.rider.call(null, null)).toBe('Please ask at the workshop.');
  expect(ALL.en.rider.call(null, 'bench@example.org')).toBe('Please write to bench@example.org.');
  expect(ALL.en.rider.call('+000 1', 'bench@example.org')).toBe(
    'Please phone +000 1 or write to bench@example.org.',
  );
  for (const language of ['en', 'pt'] as const) {
    const { rider, mails } = ALL[language];
    // A page is no mail: nothing can be answered to it.
    for (const phone of [null, '+000 1'])
      for (const email of [null, 'bench@example.org'])
        expect(rider.call(phone, email)).not.toMatch(/\breply\b|\bresponda\b/i);
    expect(mails.noReply(null)).not.toMatch(/\breply\b|\bresponda\b/i);
    expect(mails.contact('+000 1')).toMatch(/\breply\b|\bresponda\b/i);
  }
});
