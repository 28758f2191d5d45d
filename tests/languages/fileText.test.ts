import { expect, test } from 'vitest';
import { fileWhy } from '../../src/languages/fileText.js';
import { fileTextsFor, LANGUAGES } from '../../src/languages/index.js';

test('a code has its reason or its question, and a ride indoors needs neither', () => {
  const words = fileTextsFor('en');
  expect(fileWhy(words, { outcome: 'set-aside', code: 'empty' })).toBe(words.why.empty);
  expect(fileWhy(words, { outcome: 'ask', code: 'who' })).toBe(words.question.who);
  expect(fileWhy(words, { outcome: 'indoors', code: 'checksum' })).toBe('');
  expect(fileWhy(words, { outcome: 'counted', code: null })).toBe('');
});

test.each(LANGUAGES)('%s has a word for each code that another has', (language) => {
  const [words, english] = [fileTextsFor(language), fileTextsFor('en')];
  expect(Object.keys(words.why).sort()).toEqual(Object.keys(english.why).sort());
  expect(Object.keys(words.question).sort()).toEqual(Object.keys(english.question).sort());
});
