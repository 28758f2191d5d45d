import { expect, test } from 'vitest';
import { handleFault } from '../../src/core/handle.js';

test.each(['F-0412', 'r1', 'Moss Hopper 2', 'ação', 'x'.repeat(64)])('%s is a name', (name) => {
  expect(handleFault(name)).toBeNull();
});

test.each([
  ['', 'must hold something'],
  [' ', 'must hold something'],
  ['F-1 ', 'without spaces around it'],
  ['x'.repeat(65), 'at most 64'],
  ['a/b', 'free of slashes'],
  ['a\\b', 'free of slashes'],
  ['a\u202Eb', 'hidden characters'],
  ['a\nb', 'hidden characters'],
  ['.hidden', 'begin with a dot'],
  ['..', 'begin with a dot'],
])('%j is none', (name, said) => {
  expect(handleFault(name)).toContain(said);
});
