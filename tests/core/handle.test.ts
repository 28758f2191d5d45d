import { expect, test } from 'vitest';
import { handleFault } from '../../src/core/handle.js';

test.each(['F-0412', 'r1', 'Moss Hopper 2', 'ação', 'x'.repeat(64)])('%s is a name', (name) => {
  expect(handleFault(name)).toBeNull();
});

test.each([
  ['', 'spaces'],
  [' ', 'spaces'],
  ['F-1 ', 'spaces'],
  ['x'.repeat(65), 'signs'],
  ['a/b', 'signs'],
  ['a\\b', 'signs'],
  ['a\u202Eb', 'signs'],
  ['a\nb', 'signs'],
  ['.hidden', 'dot'],
  ['..', 'dot'],
])('%j is none', (name, said) => {
  expect(handleFault(name)).toBe(said);
});
