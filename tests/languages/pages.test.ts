import { expect, test } from 'vitest';
import { ALL, LANGUAGES } from '../../src/languages/all.js';
import { textsOf } from '../fixtures/texts.js';

const shownIn = (language: (typeof LANGUAGES)[number]): [path: string, text: string][] => {
  const { pages, rider } = ALL[language];
  return textsOf({ pages, rider });
};
const OTHERS = LANGUAGES.filter((language) => language !== 'en');

test.each(LANGUAGES)(
  'the texts of %s leave nothing empty, and avoid words that are not of the house',
  (language) => {
    for (const [path, text] of shownIn(language)) {
      if (path !== '.pages.due.first.none') expect(text, path).not.toBe('');
      expect(text, path).not.toMatch(/\b(segment|gear|garage|activity|effort)/i);
      expect(text, path).not.toMatch(/undefined|\[object/);
    }
  },
);

test.each(OTHERS)('%s says the same things as English, and takes the same values', (language) => {
  const [english, others] = [shownIn('en'), shownIn(language)];
  expect(others.map(([path]) => path)).toEqual(english.map(([path]) => path));
  const marks = (text: string): string[] => (text.match(/\u00ab\d\u00bb/g) ?? []).sort();
  for (const [i, [path, text]] of english.entries()) expect(marks(others[i]![1]), path).toEqual(marks(text));
});

test.each(OTHERS)('what could be told alike in English and %s was translated', (language) => {
  const others = new Map(shownIn(language));
  const same = shownIn('en').filter(([path, text]) => text.length > 12 && others.get(path) === text);
  expect(same.map(([path]) => path)).toEqual([]);
});
