import fc from 'fast-check';
import { expect, test } from 'vitest';
import { instant, MINUTE_MS } from '../../../src/units.js';
import { FIRST } from '../../../src/web/signIn/passwordTurn.js';
import { signInLimit } from '../../../src/web/signIn/signInLimit.js';

const at = (minutes: number) => instant(minutes * MINUTE_MS);
const from = (name: string, place: string) => ({ name, place, browser: null });
const HERE = from('owner', 'here');
const MARKED = { ...HERE, browser: 'desk' };

test('eight tries for a name from one place, then none until a quarter of an hour has gone', () => {
  const limit = signInLimit();
  for (let i = 0; i < 8; i++) expect(limit.take(HERE, at(i))).toBe(i);
  expect(limit.take(HERE, at(8))).toBeNull();
  expect(limit.take(from('owner', 'elsewhere'), at(8))).toBe(0);
  expect(limit.take(from('other', 'here'), at(8))).toBe(8);
  expect(limit.take(HERE, at(15))).not.toBeNull();
});

test('one place cannot try many names without end', () => {
  const limit = signInLimit();
  const tries = Array.from({ length: 60 }, (_, i) => limit.take(from(`name ${i}`, 'here'), at(0)));
  expect(tries.filter((rank) => rank !== null)).toHaveLength(40);
});

test('a name that is guessed from many places has fewer tries from each, and is shut to none', () => {
  const limit = signInLimit();
  const taken = Array.from({ length: 200 }, (_, place) =>
    Array.from({ length: 10 }, () => limit.take(from('owner', `place ${place}`), at(0))),
  ).map((tries) => tries.filter((rank) => rank !== null).length);
  expect([taken[0], taken.at(-1)]).toEqual([8, 3]);
  expect(taken.every((tries) => tries >= 3)).toBe(true);
});

test('a browser that signed in before has tries of its own, whatever its place and others tried', () => {
  const limit = signInLimit();
  for (let i = 0; i < 60; i++) limit.take(from(`name ${i}`, 'here'), at(0));
  for (let i = 0; i < 20; i++) limit.take(HERE, at(0));
  expect(limit.take(HERE, at(0))).toBeNull();
  for (let i = 0; i < 8; i++) expect(limit.take(MARKED, at(0))).toBe(FIRST);
  expect(limit.take(MARKED, at(0))).toBeNull();
  expect(limit.take({ ...MARKED, browser: 'phone' }, at(0))).toBe(FIRST);
});

test('who signed in has all tries again, but the place not those for other names', () => {
  const limit = signInLimit();
  for (let i = 0; i < 7; i++) limit.take(HERE, at(0));
  for (let i = 0; i < 9; i++) limit.take(from('other', 'here'), at(0));
  limit.forgive(HERE);
  expect(limit.take(from('other', 'here'), at(0))).toBeNull();
  for (let i = 0; i < 8; i++) expect(limit.take(HERE, at(0))).toBe(i);
  for (let i = 0; i < 8; i++) limit.take(MARKED, at(0));
  limit.forgive(MARKED);
  expect(limit.take(MARKED, at(0))).toBe(FIRST);
});

test('a try that nobody looked at is given back', () => {
  const limit = signInLimit();
  for (let i = 0; i < 100; i++) {
    limit.take(HERE, at(0));
    limit.giveBack(HERE, at(0));
  }
  // It is looked at after those who tried less.
  expect(limit.take(HERE, at(0))).toBe(100);
});

test('a clock set back locks nobody out for longer than the window', () => {
  const limit = signInLimit();
  for (let i = 0; i < 8; i++) limit.take(HERE, at(600));
  expect(limit.take(HERE, at(0))).not.toBeNull();
});

test('no order of tries lets more through in a window than the limit', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 0, max: 3600 }), { maxLength: 60 }), (seconds) => {
      const limit = signInLimit();
      const taken = [...seconds]
        .sort((a, b) => a - b)
        .filter((one) => limit.take(HERE, at(one / 60)) !== null);
      for (const end of taken)
        expect(taken.filter((one) => one > end - 900 && one <= end).length).toBeLessThanOrEqual(8);
    }),
  );
});
