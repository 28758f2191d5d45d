import { expect, test } from 'vitest';
import { bikeTypesOf, groundTypeOf } from '../../src/core/subSports.js';

test.each([
  ['road', 'road', ['road']],
  ['mountain', 'trail', ['trail', 'gravity']],
  ['enduro', 'gravity', ['gravity', 'trail']],
  ['bmx', null, ['other']],
  ['hand_cycling', null, []],
  ['toString', null, []],
  [null, null, []],
] as const)('%s names the ground of %s, and is ridden on %j', (subSport, ground, bikes) => {
  expect(groundTypeOf(subSport)).toBe(ground);
  expect(bikeTypesOf(subSport)).toEqual(bikes);
});
