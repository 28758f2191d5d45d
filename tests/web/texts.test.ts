import { expect, test } from 'vitest';
import { en } from '../../src/web/texts/en.js';
import { pt } from '../../src/web/texts/pt.js';

/** Every path to a text. Shape: functions are called with as many marks as they take. */
function textsOf(of: unknown, path = ''): [string, string][] {
  if (typeof of === 'string') return [[path, of]];
  if (typeof of === 'function') {
    const text =
      of.length === 1 && /count|units$|tries$/.test(path)
        ? [of(1), of(2)]
        : [of(...Array.from({ length: of.length }, (_, i) => `\u00ab${i + 1}\u00bb`))];
    return text.map((one) => [path, String(one)]);
  }
  return Object.entries(of as object).flatMap(([key, value]) => textsOf(value, `${path}.${key}`));
}

test.each([
  ['English', en],
  ['Portuguese', pt],
])('the %s texts leave nothing empty, and avoid words that are not of the house', (_, texts) => {
  for (const [path, text] of textsOf(texts)) {
    if (path !== '.due.first.none') expect(text, path).not.toBe('');
    expect(text, path).not.toMatch(/\b(segment|gear|garage|activity|effort)/i);
    expect(text, path).not.toMatch(/undefined|\[object/);
  }
});

test('both languages say the same things, and take the same values', () => {
  const [english, portuguese] = [textsOf(en), textsOf(pt)];
  expect(portuguese.map(([path]) => path)).toEqual(english.map(([path]) => path));
  const marks = (text: string): string[] => (text.match(/\u00ab\d\u00bb/g) ?? []).sort();
  for (const [i, [path, text]] of english.entries())
    expect(marks(portuguese[i]![1]), path).toEqual(marks(text));
});

test('what can be told alike in both languages was translated', () => {
  const portuguese = new Map(textsOf(pt));
  const same = textsOf(en).filter(([path, text]) => text.length > 12 && portuguese.get(path) === text);
  expect(same.map(([path]) => path)).toEqual([]);
});
