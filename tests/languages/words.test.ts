import { describe, expect, it } from 'vitest';
import { BUILT_IN_SERVICE_KINDS } from '../../src/core/ledger/serviceKinds.js';
import {
  BIKE_RULES,
  BIKE_TYPES,
  GROUNDS,
  INTERVAL_RULES,
  LIMITS,
  STATES,
  UNIT_KINDS,
} from '../../src/core/tokens.js';
import { terms as en } from '../../src/languages/en/terms.js';
import { acceptedLanguage, LANGUAGES, languageOf, wordsFor } from '../../src/languages/index.js';
import { terms as pt } from '../../src/languages/pt/terms.js';
import { COUNTED_NOUNS, type Terms } from '../../src/languages/words.js';
import { day } from '../../src/units.js';

const today = day('2025-05-20');

/** Words that a page or mail avoids, in both languages; common practice, no source. */
const AVOIDED =
  /\b(segments?|gears?|garages?|activit(y|ies)|efforts?|segmentos?|garagem|garagens|atividades?|esforços?)\b/i;

const allTexts = (value: unknown): string[] =>
  typeof value === 'string' ? [value] : Object.values(value as object).flatMap(allTexts);

describe.each([
  ['en', en],
  ['pt', pt],
] as const)('the terms of %s', (language, terms: Terms) => {
  it('have a word for every token, each its own', () => {
    const tables: [Readonly<Record<string, unknown>>, readonly string[]][] = [
      [terms.state, STATES],
      [terms.unitKind, UNIT_KINDS],
      [terms.serviceKind, BUILT_IN_SERVICE_KINDS],
      [terms.bikeType, BIKE_TYPES],
      [terms.limit, LIMITS],
      [terms.ground, GROUNDS],
      [terms.bikeRule, BIKE_RULES],
      [terms.intervalRule, INTERVAL_RULES],
      [terms.counted, COUNTED_NOUNS],
    ];
    for (const [table, tokens] of tables) {
      expect(Object.keys(table).sort()).toEqual([...tokens].sort());
      const words = allTexts(table);
      expect(words.every((word) => word.trim().length > 0)).toBe(true);
    }
    for (const table of [terms.state, terms.unitKind, terms.serviceKind, terms.limit, terms.ground])
      expect(new Set(Object.values(table)).size).toBe(Object.values(table).length);
  });

  it('avoid the words that pages avoid', () => {
    for (const text of allTexts(terms)) expect(text).not.toMatch(AVOIDED);
  });

  it('belong to the language that is asked for', () => {
    expect(wordsFor(language).language).toBe(language);
  });
});

describe('languageOf', () => {
  it('takes the primary part of a tag, and English for the rest', () => {
    expect(['pt', 'pt-BR', 'PT_pt', 'en-US', 'fi', '', 'ptx'].map(languageOf)).toEqual([
      'pt',
      'pt',
      'pt',
      'en',
      'en',
      'en',
      'en',
    ]);
    expect(LANGUAGES).toEqual(['en', 'pt']);
  });
});

describe('days', () => {
  const [english, portuguese] = [wordsFor('en'), wordsFor('pt')];

  it('are written with the month as a word, and the year where it is another', () => {
    expect(english.day(day('2025-06-12'), today)).toBe('12 June');
    expect(english.day(day('2024-12-31'), today)).toBe('31 December 2024');
    expect(portuguese.day(day('2025-06-12'), today)).toBe('12 de junho');
    expect(english.weekday(day('2025-06-12'), today)).toBe('Thursday 12 June');
    expect(portuguese.weekday(day('2025-06-12'), today)).toBe('quinta-feira, 12 de junho');
  });

  it('make ranges, told in months once they are wide', () => {
    const about = (from: string, to: string) => english.about(day(from), day(to), today);
    expect(about('2025-06-12', '2025-06-20')).toBe('about 12–20 June');
    expect(about('2025-06-12', '2025-06-12')).toBe('about 12 June');
    expect(about('2025-05-28', '2025-06-04')).toBe('about 28 May – 4 June');
    expect(about('2025-12-20', '2026-01-08')).toBe('about 20 December 2025 – 8 January 2026');
    expect(about('2025-06-12', '2025-08-11')).toBe('about 12 June – 11 August');
    expect(about('2025-06-12', '2025-08-12')).toBe('about June – August');
    expect(about('2025-12-01', '2026-03-01')).toBe('about December 2025 – March 2026');
    expect(portuguese.about(day('2025-06-12'), day('2025-06-20'), today)).toBe('por volta de 12–20 de junho');
  });

  it('hold in every zone that the machine may stand in', () => {
    const before = process.env.TZ;
    for (const zone of ['Pacific/Kiritimati', 'Pacific/Pago_Pago']) {
      process.env.TZ = zone;
      expect(english.day(day('2025-06-12'), today)).toBe('12 June');
    }
    if (before === undefined) delete process.env.TZ;
    else process.env.TZ = before;
  });
});

describe('numbers', () => {
  it('have one decimal at most, by the habit of the language', () => {
    expect(wordsFor('en').hours(41.26)).toBe('41.3\u00a0h');
    expect(wordsFor('pt').hours(41.26)).toBe('41,3\u00a0h');
    expect(wordsFor('en').number(-0.04)).toBe('0');
  });

  it('count nouns by the plural of the language', () => {
    expect([0, 1, 2].map((n) => wordsFor('en').counted(n, 'ride'))).toEqual(['0 rides', '1 ride', '2 rides']);
    expect([0, 1, 2].map((n) => wordsFor('pt').counted(n, 'month'))).toEqual(['0 meses', '1 mês', '2 meses']);
  });

  it('and lists are joined as a sentence', () => {
    expect(wordsFor('pt').list(['a', 'b', 'c'])).toBe('a, b e c');
  });

  it("show a workshop's own service kind as typed, even one named like an object's own parts", () => {
    expect(wordsFor('en').serviceKind('wipers only')).toBe('wipers only');
    expect(wordsFor('en').serviceKind('constructor')).toBe('constructor');
    expect(wordsFor('pt').serviceKind('full')).toBe('revisão completa');
  });
});

it.each([
  ['pt-PT,pt;q=0.9,en;q=0.8', 'pt'],
  ['pt,en', 'pt'],
  ['fr, en;q=0.2, pt-BR;q=0.5', 'pt'],
  ['en-GB', 'en'],
  ['pt;q=0, fr', null],
  ['*', null],
  ['', null],
  [undefined, null],
])('of what a browser accepts, %s, the first of our languages is taken: %s', (header, language) => {
  expect(acceptedLanguage(header)).toBe(language);
});
