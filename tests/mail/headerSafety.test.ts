import fc from 'fast-check';
import { expect, it } from 'vitest';
import { oneLine, unsafeInHeader } from '../../src/mail/headerSafety.js';

it.each([
  'a\r\nBcc: x',
  'a\nb',
  'a\rb',
  'a\u0000',
  'a\tb',
  'a\u0085b',
  'a\u2028b',
  'a\u202eb',
  'a\u2066b',
  '\u007f',
])('finds what may not stand in a header: %j', (text) => {
  expect(unsafeInHeader(text)).toBe(true);
});

it('leaves letters of any script alone', () => {
  for (const text of ['Ação & Filhos', 'Ведро', '自転車', 'a “b” c', ''])
    expect(unsafeInHeader(text)).toBe(false);
});

const unit = fc.oneof(
  fc.integer({ min: 0, max: 0xff }).map((code) => String.fromCharCode(code)),
  fc.constantFrom('\u2028', '\u2029', '\u202a', '\u202e', '\u2066', '\u2069', '\u200b', '\ufeff', 'é', '🚲'),
);

it('makes any text fit for a header, and changes a fit one by no more than its spaces', () => {
  expect(oneLine('  a\r\n\tb \u202e c  ')).toBe('a b c');
  fc.assert(fc.property(fc.string({ unit }), (text) => !unsafeInHeader(oneLine(text))));
});
