import fc from 'fast-check';
import { expect, test } from 'vitest';
import { instant, MINUTE_MS } from '../../../src/units.js';
import { signInLimit } from '../../../src/web/signIn/signInLimit.js';

const at = (minutes: number) => instant(minutes * MINUTE_MS);

test('eight tries for a name from one place, then none until a quarter of an hour has gone', () => {
  const limit = signInLimit();
  for (let i = 0; i < 8; i++) expect(limit.take('owner', 'here', at(i))).toBe(true);
  expect(limit.take('owner', 'here', at(8))).toBe(false);
  expect(limit.take('owner', 'elsewhere', at(8))).toBe(true);
  expect(limit.take('other', 'here', at(8))).toBe(true);
  expect(limit.take('owner', 'here', at(15))).toBe(true);
});

test('one place cannot try many names, nor many places one name without end', () => {
  const place = signInLimit();
  const names = Array.from({ length: 60 }, (_, i) => place.take(`name ${i}`, 'here', at(0)));
  expect(names.filter(Boolean)).toHaveLength(40);
  const name = signInLimit();
  const places = Array.from({ length: 150 }, (_, i) => name.take('owner', `place ${i}`, at(0)));
  expect(places.filter(Boolean)).toHaveLength(100);
});

test('a right password forgives the tries before it, but not those of its place for other names', () => {
  const limit = signInLimit();
  for (let i = 0; i < 7; i++) limit.take('owner', 'here', at(0));
  limit.forgive('owner', 'here');
  for (let i = 0; i < 8; i++) expect(limit.take('owner', 'here', at(0))).toBe(true);
  for (let i = 0; i < 30; i++) limit.take(`name ${i}`, 'here', at(0));
  expect(limit.take('one more', 'here', at(0))).toBe(false);
});

test('a clock set back locks nobody out for longer than the window', () => {
  const limit = signInLimit();
  for (let i = 0; i < 8; i++) limit.take('owner', 'here', at(600));
  expect(limit.take('owner', 'here', at(0))).toBe(true);
});

test('no order of tries lets more through in a window than the limit', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 0, max: 60 }), { maxLength: 60 }), (minutes) => {
      const limit = signInLimit();
      const taken = [...minutes].sort((a, b) => a - b).filter((one) => limit.take('owner', 'here', at(one)));
      for (const end of taken)
        expect(taken.filter((one) => one > end - 15 && one <= end).length).toBeLessThanOrEqual(8);
    }),
  );
});
