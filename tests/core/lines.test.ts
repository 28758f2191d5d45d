import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hasUnseen, isLine, isLines, oneLine, shownName } from '../../src/core/lines.js';

describe('shownName', () => {
  it('escapes what cannot be seen or turns the text around, and nothing else', () => {
    expect(shownName('ride\u202Etif.exe\n\u0000')).toBe('ride\\u{202e}tif.exe\\u{a}\\u{0}');
    expect(shownName('Manhã – 山 🚵.fit')).toBe('Manhã – 山 🚵.fit');
  });
});

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
  expect(hasUnseen(text)).toBe(true);
});

it('leaves letters of any script alone', () => {
  for (const text of ['Ação & Filhos', 'Ведро', '自転車', 'a “b” c', '']) expect(hasUnseen(text)).toBe(false);
});

const unit = fc.oneof(
  fc.integer({ min: 0, max: 0xff }).map((code) => String.fromCharCode(code)),
  fc.constantFrom('\u2028', '\u2029', '\u202a', '\u202e', '\u2066', '\u2069', '\u200b', '\ufeff', 'é', '🚲'),
);

it('makes any text fit for a header, and changes a fit one by no more than its spaces', () => {
  expect(oneLine('  a\r\n\tb \u202e c  ')).toBe('a b c');
  fc.assert(fc.property(fc.string({ unit }), (text) => !hasUnseen(oneLine(text))));
});

it('takes one line or several, with marks of direction that a copied number carries', () => {
  for (const text of ['', 'Rua da Bica 3', '\u202a+351 912\u202c']) expect(isLine(text)).toBe(true);
  for (const text of ['a\nb', 'a\u0000', 'a\u2028b', 'a\tb']) expect(isLine(text)).toBe(false);
  expect(isLines('Rua da Bica 3\n1200 Lisboa')).toBe(true);
  expect(isLines('a\r\nb')).toBe(false);
});
