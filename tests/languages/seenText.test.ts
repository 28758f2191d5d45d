/** What was seen at a look, in each language; what the ledger does not know stays as it was typed. */
import { expect, it } from 'vitest';
import { seenText } from '../../src/languages/seenText.js';

it('says look and word in the reader’s language', () => {
  expect(seenText('en', ['foamRings', 'dark'])).toBe('Foam rings: dark');
  expect(seenText('pt', ['foamRings', 'dark'])).toBe('Anéis de espuma: escuros');
});

it('says a word of an older book in today’s, and keeps what was typed', () => {
  expect(seenText('en', ['airSpring', 'loses air'])).toBe(seenText('en', ['airSpring', 'loses-air']));
  expect(seenText('en', ['setUpPressure', '82 psi'])).toMatch(/: 82 psi$/);
});
