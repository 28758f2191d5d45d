import { expect, test } from 'vitest';
import { ALL_BUILDS, buildOf } from '../../../src/core/ledger/build.js';

test('a fork has air unless it says coil; a shock says it by its kind', () => {
  expect(buildOf({ unitKind: 'fork' })).toBe('air-fork');
  expect(buildOf({ unitKind: 'fork', spring: 'coil' })).toBe('coil-fork');
  expect(buildOf({ unitKind: 'air-shock', spring: 'coil' })).toBe('air-shock');
  expect(buildOf({ unitKind: 'coil-shock' })).toBe('coil-shock');
  expect(ALL_BUILDS).toHaveLength(4);
});
