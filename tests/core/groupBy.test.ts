import { expect, test } from 'vitest';
import { groupBy } from '../../src/core/groupBy.js';

test('groups keep the order in which things stand', () => {
  const groups = groupBy(['b1', 'a1', 'b2'], (text) => text[0]!);
  expect([...groups]).toEqual([
    ['b', ['b1', 'b2']],
    ['a', ['a1']],
  ]);
});
