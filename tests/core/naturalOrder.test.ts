import fc from 'fast-check';
import { expect, it } from 'vitest';
import { naturalOrder } from '../../src/core/naturalOrder.js';

it('puts 2 before 10, also within a name and beside letters', () => {
  const sorted = ['', 'Bike', 'Bike 2', 'Bike 2a', 'Bike 10', 'F-0003', 'F-0021', 'x'];
  expect(sorted.toReversed().sort(naturalOrder)).toEqual(sorted);
});

it('is an order: the same the other way round, and nothing but itself is equal', () => {
  const name = fc.string({ unit: fc.constantFrom('0', '1', '9', 'a', '-', ' '), maxLength: 6 });
  fc.assert(
    fc.property(name, name, (a, b) => {
      expect(Math.sign(naturalOrder(a, b)) + Math.sign(naturalOrder(b, a))).toBe(0);
      expect(naturalOrder(a, b) === 0).toBe(a === b);
    }),
  );
});
