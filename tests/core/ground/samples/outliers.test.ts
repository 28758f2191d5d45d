import { describe, expect, it } from 'vitest';
import { APART, findOutliers, MOVED } from '../../../../src/core/ground/samples/outliers.js';

const verdicts = (values: readonly number[], begins: readonly number[] = []): number[] =>
  Array.from(
    findOutliers(
      Uint8Array.from(values, (_, i) => (i === 0 || begins.includes(i) ? 1 : 0)),
      Float64Array.from(values),
      (a, b) => Math.abs(values[a]! - values[b]!) <= 2,
    ),
  );

describe('values apart from their neighbours', () => {
  it('are named when the rest returns', () => {
    expect(verdicts([1, 2, 90, 91, 3, 4])).toEqual([0, 0, APART, APART, 0, 0]);
  });
  it('are believed from the fifth that agrees with them', () => {
    expect(verdicts([1, 50, 51, 52, 53, 54, 55])).toEqual([0, MOVED, 0, 0, 0, 0, 0]);
  });
  it('do not help one another when each lies elsewhere', () => {
    expect(verdicts([1, 50, 90, 150, 200, 250, 2])).toEqual([0, APART, APART, APART, APART, APART, 0]);
  });
  it('start anew with a span', () => {
    expect(verdicts([1, 2, 90, 91], [2])).toEqual([0, 0, 0, 0]);
  });
  it('skip what is missing', () => {
    expect(verdicts([1, Number.NaN, 2])[1]).not.toBe(APART);
  });
});
