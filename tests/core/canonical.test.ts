import { expect, it } from 'vitest';
import { canonical } from '../../src/core/canonical.js';

it('equal facts are equal texts, whatever the order of their keys', () => {
  expect(canonical({ b: [1, { y: null, x: 'a' }], a: 2 })).toBe(
    canonical({ a: 2, b: [1, { x: 'a', y: null }] }),
  );
});

it('the order of a list, an absent key and a null still tell apart', () => {
  expect(canonical([1, 2])).not.toBe(canonical([2, 1]));
  expect(canonical({ a: null })).not.toBe(canonical({}));
  expect(canonical({ a: '1' })).not.toBe(canonical({ a: 1 }));
});
