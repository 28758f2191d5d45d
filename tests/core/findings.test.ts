import { expect, test } from 'vitest';
import { FINDING_WORDS, FINDINGS, findingsFault } from '../../src/core/findings.js';
import { UNIT_KINDS } from '../../src/core/tokens.js';

test('what is found by name and in the words of the list is taken', () => {
  expect(findingsFault('fork', { foamRings: 'dark', oil: 'milky', crown: 'sound' })).toBeNull();
  expect(findingsFault('coil-shock', { eyelets: 'worn' })).toBeNull();
  expect(findingsFault('fork', {})).toBeNull();
});

test('what is not on the list is refused with what is', () => {
  expect(findingsFault('fork', { colour: 'red' })).toMatch(/no finding "colour".*foamRings, oil/);
  expect(findingsFault('coil-shock', { airSpring: 'leaks' })).toMatch(/no finding "airSpring"/);
  expect(findingsFault('fork', { foamRings: 'blue' })).toBe('Foam rings are pale, honey, dark, not "blue".');
});

test('every finding has its word, and a unit kind that it is found in', () => {
  const found = new Set(UNIT_KINDS.flatMap((kind) => FINDINGS[kind]));
  expect([...found].sort()).toEqual(Object.keys(FINDING_WORDS).sort());
});
