import { expect, test } from 'vitest';
import type { RefusalCode } from '../../src/core/refusals.js';
import { wordsFor } from '../../src/languages/index.js';
import { commandRefusal, refusalText } from '../../src/languages/refusals.js';
import { day } from '../../src/units.js';
import { CODES, REFUSED } from './refusalValues.js';

const around = (language: string) => ({
  words: wordsFor(language),
  today: day('2026-06-10'),
  zone: 'Europe/Lisbon',
});
const textIn = (language: string, code: RefusalCode): string =>
  refusalText({ refusal: code, values: REFUSED[code] }, around(language));

/** Words that no Portuguese sentence has; Portuguese has "for" and "a" of its own. */
const ENGLISH =
  /(?<!\p{L})(?:the|is|are|was|not|must|cannot|has|have|already|with|that|this|than|there|from|fork|shock|lower-leg|and|which|of|lead|bike|rider|fleet|rough|done|declined)(?!\p{L})/iu;

test.each(CODES)('%s is told in each language, and in no other', (code) => {
  const [english, portuguese] = [textIn('en', code), textIn('pt', code)];
  expect(english).toMatch(/\S.*\.$/);
  expect(portuguese).toMatch(/\S.*\.$/);
  expect(portuguese).not.toBe(english);
  expect(english).toMatch(ENGLISH);
  expect(portuguese).not.toMatch(ENGLISH);
  expect(`${english} ${portuguese}`).not.toMatch(/undefined|null|NaN|\[object/);
});

test('on pages days are told as people say them, and no id of a fact', () => {
  expect(textIn('en', 'no-place')).toBe(
    'There is no place on Sunday 14 June: the day is closed or full. Free days: Tuesday 16 June, Wednesday 17 June.',
  );
  expect(textIn('en', 'is-elsewhere')).toMatch(/^F-1 is on bike b1 from 1 May on\./);
  expect(textIn('en', 'before-it-came')).toMatch(
    /^F-1 came new on 1 May; .* serviced on 1 April\. If that day/,
  );
  for (const code of CODES) {
    // It shows how days are typed.
    if (code !== 'no-moment') expect(textIn('en', code), code).not.toMatch(/\d{4}-\d{2}-\d{2}/);
    expect(textIn('en', code), code).not.toMatch(/\bf1\b/);
  }
});

test('commands tell days as they are typed, kinds as tokens and facts by their ids', () => {
  const said = (code: RefusalCode) =>
    commandRefusal({ refusal: code, values: REFUSED[code] }, wordsFor('en')).join(' ');
  expect(said('is-elsewhere')).toMatch(/^F-1 is on bike b1 from 2026-04-30T23:00:00Z on\./);
  expect(said('not-of-unit')).toMatch(/F-1 is a fork and has no "bushings". It has: lower-leg, full\.$/);
  expect(said('held')).toBe('This cannot be taken back while something depends on it: a fitting (fact f1).');
  expect(said('void-already')).toBe('This line was taken back already (fact f1).');
});

test('numbers lose no decimal that was typed', () => {
  const refused = {
    refusal: 'weight-range',
    values: [{ ground: 'smooth', low: 0.125, high: 4, value: 9.75 }],
  };
  expect(refusalText(refused, around('en'))).toMatch(
    /^The weight of smooth ground must be from 0.125 to 4, not 9.75\. /,
  );
  expect(refusalText(refused, around('pt'))).toMatch(
    /^O peso do terreno suave vai de 0,125 a 4, e não 9,75\. /,
  );
});
