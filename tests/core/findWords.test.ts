/** Accents and capitals by the Unicode Standard's own decompositions (UAX #15); how people type numbers: common practice, no source. */
import { describe, expect, it } from 'vitest';
import { findParts, findWords } from '../../src/core/findWords.js';

/** Whether each part begins one of the stored words. */
const isFound = (sought: string, words: ReadonlySet<string>): boolean => {
  const parts = findParts(sought);
  return parts.length > 0 && parts.every((part) => [...words].some((word) => word.startsWith(part)));
};

describe('what is looked for is found', () => {
  const ana = findWords(['Ana Ferrão-Costa'], ['+351 912 345 678', 'ana.f@Example.org']);
  it.each([
    ...['ana', 'ANA', 'ferrao', 'Ferrão', 'FERRÃO-COSTA', 'costa', 'rrao', 'ana costa', 'costa an', ' ana  '],
    ...[
      '912345678',
      '912 345 678',
      '912-345-678',
      '(0351) 912 345 678',
      '+351912345678',
      '00351 912 345 678',
    ],
    ...['345 678', '5678', 'ana.f@example.org', 'example', 'f@exa', '0912345678'],
  ])('%s', (sought) => {
    expect(isFound(sought, ana)).toBe(true);
  });
  it.each(['anna', 'costas', 'ana silva', '912345679', '', '   ', '--', '@'])('but not by %j', (sought) => {
    expect(isFound(sought, ana)).toBe(false);
  });

  it('whichever way an accent is written, and letters that have none of their own', () => {
    for (const [name, sought] of [
      ['Zoë', 'Zoe\u0308'],
      ['Jose\u0301', 'josé'],
      ['Straße', 'strasse'],
      ['Søren Łukasz', 'lukasz soren'],
      ['ＡＢＣ', 'abc'],
      ['Åsa', 'asa'],
    ] as const)
      expect([name, isFound(sought, findWords([name], []))]).toEqual([name, true]);
  });

  it('tags and serial numbers by any part of three signs, with or without the marks between', () => {
    const fork = findWords(['Sample fork T-150'], ['F-0412', 'SN 77/2019-XK']);
    for (const sought of [
      'f-0412',
      'F0412',
      '0412',
      '412',
      'f-04',
      'sn77',
      '2019xk',
      '19-xk',
      't150',
      'fork samp',
    ])
      expect([sought, isFound(sought, fork)]).toEqual([sought, true]);
    for (const sought of ['0413', 'xk', 'f-412'])
      expect([sought, isFound(sought, fork)]).toEqual([sought, false]);
  });

  it('a name of one sign is found by it, and one of very many keeps within bounds', () => {
    expect(isFound('q', findWords(['Q'], []))).toBe(true);
    const long = findWords(['x'.repeat(100)], ['1'.repeat(10_000)]);
    expect(long.size).toBeLessThan(200);
    expect(Math.max(...[...long].map((word) => word.length))).toBeLessThanOrEqual(24);
    expect(isFound('x'.repeat(100), long)).toBe(true);
    expect(findParts('a b c d e f g h i j').length).toBeLessThanOrEqual(6);
  });
});

it('any part of a name of three letters or more finds it, whatever the name', () => {
  const letters = [...'abcçdeéèfghiíjklmnñoóöøpqrsßtuúüvwxyzåæ中文字ひらがな'];
  let seed = 7;
  const next = (below: number): number => {
    seed = (seed * 1_103_515_245 + 12_345) % 2_147_483_648;
    return Math.floor((seed / 2_147_483_648) * below);
  };
  for (let i = 0; i < 500; i++) {
    const name = Array.from({ length: 3 + next(20) }, () => letters[next(letters.length)]).join('');
    const words = findWords([name], []);
    const from = next(name.length - 2);
    const part = name.slice(from, from + 3 + next(name.length - from - 2));
    expect([name, part, isFound(part.toUpperCase(), words)]).toEqual([name, part, true]);
  }
});
