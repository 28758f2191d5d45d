import fc from 'fast-check';
import { expect, it } from 'vitest';
import { instant } from '../../../src/units.js';
import { tally } from '../../../src/web/door/tally.js';

const at = (seconds: number) => instant(seconds * 1000);

it('counts a quarter of an hour', () => {
  const one = tally();
  one.add('a', at(0));
  one.add('a', at(30), 5);
  one.add('a', at(100));
  expect([one.count('a', at(100)), one.count('b', at(100))]).toEqual([7, 0]);
  expect(one.count('a', at(930))).toBe(1);
  expect(one.count('a', at(1000))).toBe(0);
});

it('holds so many keys and forgets what nothing was added to for longest', () => {
  const one = tally(3);
  for (const key of ['a', 'b', 'c', 'a', 'd']) one.add(key, at(0));
  expect(['a', 'b', 'c', 'd'].map((key) => one.count(key, at(0)))).toEqual([2, 0, 1, 1]);
});

it('stays small whatever is added, and clears what it is told to', () => {
  const one = tally(1000);
  const before = process.memoryUsage().heapUsed;
  for (let i = 0; i < 200_000; i++) one.add(`made up ${i}`, at(i / 1000));
  expect(process.memoryUsage().heapUsed - before).toBeLessThan(50_000_000);
  one.add('a', at(200), 3);
  one.clear('a');
  expect(one.count('a', at(200))).toBe(0);
});

it('never counts less than what was added in the window, nor more than in a minute before it', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 0, max: 4000 }), { maxLength: 80 }), (seconds) => {
      const one = tally();
      const added: number[] = [];
      for (const now of [...seconds].sort((a, b) => a - b)) {
        one.add('a', at(now));
        added.push(now);
        const within = (s: number): number => added.filter((when) => now - when < s).length;
        expect(one.count('a', at(now))).toBeGreaterThanOrEqual(within(900));
        expect(one.count('a', at(now))).toBeLessThanOrEqual(within(960));
      }
    }),
  );
});
