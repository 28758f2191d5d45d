import { expect, it } from 'vitest';
import { capitalised, contactOf, rendered, shortened, voiceOf } from '../../src/mail/correspondent.js';
import { workshop } from './mailSamples.js';

const voice = voiceOf('en');

it('cuts a text by whole signs, and says that it did', () => {
  expect(shortened('  a\nb ', 3)).toBe('a b');
  expect(shortened('🚲🚲🚲🚲', 3)).toBe('🚲🚲…');
  expect(shortened('ab cd', 4)).toBe('ab…');
});

it('signs with what the workshop typed, line by line, and leaves out what it did not', () => {
  const draft = { subject: 's', blocks: [] };
  expect(rendered({ ...workshop, openingHours: 'Tue 10 to 18\r\n\nSat 10 to 13' }, voice, draft).text).toBe(
    '-- \nInvented Bench & Sons\n1 Nowhere Lane\n00000 Notatown\nPhone +000 555 0100\nOpen Tue 10 to 18\nSat 10 to 13\n',
  );
  const bare = { name: 'Bench', phone: null, address: null, openingHours: null };
  expect(rendered(bare, voice, draft).text).toBe('-- \nBench\n');
});

it('gives the phone only where there is one', () => {
  expect(contactOf(workshop, voice.texts)).toBe('reply to this mail or phone +000 555 0100');
  expect(contactOf({ ...workshop, phone: ' ' }, voice.texts)).toBe('reply to this mail');
  // Without an address a reply reaches nobody.
  expect(contactOf({ ...workshop, email: null }, voice.texts)).toBe('phone +000 555 0100');
  expect(contactOf({ ...workshop, phone: null, email: null }, voice.texts)).toBe('ask at the workshop');
});

it('begins a word with its capital, in any script', () => {
  expect(['due', 'último', ''].map((word) => capitalised(word, 'pt-PT'))).toEqual(['Due', 'Último', '']);
});
