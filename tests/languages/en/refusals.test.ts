import { expect, test } from 'vitest';
import { wordsFor } from '../../../src/languages/index.js';
import { refusalText } from '../../../src/languages/refusals.js';
import { day } from '../../../src/units.js';

const said = (refusal: string, of: object): string =>
  refusalText(
    { refusal, values: [of] },
    { words: wordsFor('en'), today: day('2026-06-10'), zone: 'Europe/Lisbon' },
  );

test('days and moments are those of the workshop’s zone; what only looks like one stays', () => {
  const span = { from: '2026-04-30T23:00:00Z', to: '2026-06-01' };
  expect(said('is-elsewhere', { tag: '2026-05-01', bike: 'b1', span })).toMatch(
    /^2026-05-01 is on bike b1 from 1 May to 1 June\. /,
  );
  expect(said('day-passed', { day: '2026-06-08' })).toBe('Monday 8 June has passed.');
});

test('what stands on a fact is named without its id, and by its name where it has one', () => {
  expect(said('held', { by: 'fitting', name: 'f1' })).toBe(
    'This cannot be taken back while something depends on it: a fitting.',
  );
  expect(said('held', { by: 'bike', name: 'b1' })).toBe(
    'This cannot be taken back while something depends on it: bike b1.',
  );
});
