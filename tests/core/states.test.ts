import { expect, test } from 'vitest';
import {
  isAtLeast,
  isReached,
  isStrong,
  isTold,
  isWanted,
  PRESSING_STATES,
  pressingRank,
  RIDER_STATES,
} from '../../src/core/states.js';
import { STATES } from '../../src/core/tokens.js';

test('what has fallen due is wanted, what is wanted is told', () => {
  expect(STATES.filter(isReached)).toEqual(['over-interval', 'due']);
  expect(STATES.filter(isWanted)).toEqual(['over-interval', 'due', 'coming-up']);
  expect(STATES.filter((state) => !isTold(state))).toEqual(['on-the-bench', 'in-time']);
  expect(STATES.filter(isStrong)).toEqual(['stop-riding', 'over-interval', 'due']);
});

test('lists show what presses before what has a date, stop riding first', () => {
  expect(PRESSING_STATES).toEqual(['stop-riding', 'on-the-bench', 'history-unknown', 'over-interval', 'due']);
  expect(pressingRank('coming-up')).toBe(pressingRank('in-time'));
  expect(pressingRank('due')).toBeLessThan(pressingRank('coming-up'));
});

test('what was told of a lesser state still holds in a greater one', () => {
  expect(isAtLeast('over-interval', 'coming-up')).toBe(true);
  expect(isAtLeast('coming-up', 'due')).toBe(false);
  expect(isAtLeast('on-the-bench', 'coming-up')).toBe(false);
});

test('a rider sees first what mails tell first, and an unknown history never before what is overdue', () => {
  expect(RIDER_STATES).toHaveLength(STATES.length);
  expect(RIDER_STATES[0]).toBe('stop-riding');
  expect(RIDER_STATES.indexOf('over-interval')).toBeLessThan(RIDER_STATES.indexOf('history-unknown'));
});
