import { expect, test } from 'vitest';
import { en as riderEn } from '../../src/web/rider/texts/en.js';
import { pt as riderPt } from '../../src/web/rider/texts/pt.js';
import { en as webEn } from '../../src/web/texts/en.js';
import { pt as webPt } from '../../src/web/texts/pt.js';
import { textsOf } from '../fixtures/texts.js';

const en = { web: webEn, rider: riderEn };
const pt = { web: webPt, rider: riderPt };

test.each([
  ['English', en],
  ['Portuguese', pt],
])('the %s texts leave nothing empty, and avoid words that are not of the house', (_, texts) => {
  for (const [path, text] of textsOf(texts)) {
    if (path !== '.web.due.first.none') expect(text, path).not.toBe('');
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
