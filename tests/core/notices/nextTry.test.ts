import { expect, it } from 'vitest';
import { nextTry } from '../../../src/core/notices/nextTry.js';
import { DAY_MS, HOUR_MS, instant, MINUTE_MS } from '../../../src/units.js';

const first = instant(Date.UTC(2025, 2, 29, 23, 0));

const allTries = (): number[] => {
  const waits: number[] = [];
  for (let tries = 0, at = nextTry(first, 0); at !== null; tries += 1, at = nextTry(first, tries))
    waits.push(at - first);
  return waits;
};

it('keeps the pace of RFC 5321 4.5.4.1', () => {
  const waits = allTries();
  expect(waits[0]).toBe(0);
  expect(waits.filter((wait) => wait < HOUR_MS)).toHaveLength(2);
  const gaps = waits.slice(1).map((wait, i) => wait - waits[i]!);
  expect(Math.min(...gaps)).toBeGreaterThanOrEqual(30 * MINUTE_MS);
  for (const gap of gaps.slice(1)) {
    expect(gap).toBeGreaterThanOrEqual(2 * HOUR_MS);
    expect(gap).toBeLessThanOrEqual(3 * HOUR_MS);
  }
  expect(waits.at(-1)).toBeGreaterThanOrEqual(4 * DAY_MS);
  expect(waits.at(-1)).toBeLessThanOrEqual(5 * DAY_MS);
});

it('can be set otherwise', () => {
  const plan = { firstMin: 60, thenMin: 120, giveUpDays: 0.25 };
  expect([0, 1, 2, 3, 4].map((tries) => nextTry(first, tries, plan))).toEqual([
    first,
    first + HOUR_MS,
    first + 3 * HOUR_MS,
    first + 5 * HOUR_MS,
    null,
  ]);
});
