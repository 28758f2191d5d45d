import { expect, it } from 'vitest';
import { firstKnown, hasHole, isMissing } from '../../../../src/core/ground/samples/missing.js';

it.each([
  [[], -1, false],
  [[Number.NaN, Number.NaN], -1, true],
  [[0, -1], 0, false],
  [[Number.NaN, 0], 1, true],
  [[1, Number.NaN], 0, true],
] as const)('a column of %j is known from %i on', (values, first, hole) => {
  const column = Float64Array.from(values);
  expect(firstKnown(column)).toBe(first);
  expect(isMissing(column)).toBe(first < 0);
  expect(hasHole(column)).toBe(hole);
});
