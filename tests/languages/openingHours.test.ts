import { expect, test } from 'vitest';
import { wordsFor } from '../../src/languages/index.js';
import { openingHoursFor } from '../../src/languages/openingHours.js';
import { workshop } from '../mail/mailSamples.js';

const ours = { ...workshop, language: 'en', openDays: ['tue', 'wed', 'sat'] as const };

test('as typed for who reads the workshop’s language, days in words for all others', () => {
  expect(openingHoursFor(ours, wordsFor('en'))).toEqual(['Tuesday to Saturday, 10 to 18']);
  expect(openingHoursFor(ours, wordsFor('pt'))).toEqual(['terça-feira, quarta-feira e sábado, 10–18']);
});

test('leaves out times of which there are more than two, and says nothing where nothing is typed', () => {
  const split = { ...ours, openingHours: 'Tue to Fri 9:30-13, 14-18' };
  expect(openingHoursFor(split, wordsFor('pt'))).toEqual(['terça-feira, quarta-feira e sábado']);
  expect(openingHoursFor({ ...ours, openingHours: 'Tue 9h30-18' }, wordsFor('pt'))[0]).toMatch(/, 9:30–18$/);
  expect(openingHoursFor({ ...ours, openingHours: null }, wordsFor('pt'))).toEqual([]);
  expect(openingHoursFor(workshop, wordsFor('pt'))).toEqual(['Tuesday to Saturday, 10 to 18']);
});
