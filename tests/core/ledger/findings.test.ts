import { expect, test } from 'vitest';
import {
  FINDING_WORDS,
  FINDINGS,
  type FindingName,
  findingsFault,
  LOOKS,
} from '../../../src/core/ledger/findings.js';
import { UNIT_KINDS } from '../../../src/core/tokens.js';
import { pages as en } from '../../../src/languages/en/pages/index.js';
import { pages as pt } from '../../../src/languages/pt/pages/index.js';

test('what is found by name and in the words of the list is taken', () => {
  expect(findingsFault('fork', { foamRings: 'dark', oil: 'milky', crown: 'sound' })).toBeNull();
  expect(findingsFault('coil-shock', { eyelets: 'worn' })).toBeNull();
  expect(findingsFault('fork', {})).toBeNull();
});

test('what is not on the list is refused with what is', () => {
  expect(findingsFault('fork', { colour: 'red' })).toMatchObject({
    code: 'no-finding',
    unknown: ['colour'],
    names: expect.arrayContaining(['foamRings', 'oil']),
  });
  expect(findingsFault('coil-shock', { airSpring: 'leaks' })).toMatchObject({ unknown: ['airSpring'] });
  expect(findingsFault('fork', { foamRings: 'blue' })).toEqual({
    code: 'foam-rings',
    said: 'blue',
    looks: ['pale', 'honey', 'dark'],
  });
});

test('every finding has its word, and a unit kind that it is found in', () => {
  const found = new Set(UNIT_KINDS.flatMap((kind) => FINDINGS[kind]));
  expect([...found].sort()).toEqual(Object.keys(FINDING_WORDS).sort());
});

test('every look that a page offers is one that the ledger takes, for every kind of unit', () => {
  for (const kind of UNIT_KINDS)
    for (const name of FINDINGS[kind]) {
      expect(LOOKS[name].length, name).toBeGreaterThan(1);
      for (const look of LOOKS[name]) expect(findingsFault(kind, { [name]: look })).toBeNull();
    }
});

test.each([en, pt])('each look has a word of its own in each language', (texts) => {
  for (const name of Object.keys(LOOKS) as FindingName[]) {
    const words = texts.paper.card.looks[name];
    expect(words.length, name).toBe(LOOKS[name].length);
    expect(new Set(words).size, name).toBe(words.length);
  }
});
