/** Planning and learning against published numbers and against rules stated elsewhere. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isotonic } from '../../src/core/chance/isotonic.js';
import { coverOf, totalsOf } from '../../src/core/chance/poissonBinomial.js';
import { shareRankedRight } from '../../src/core/chance/rankedPairs.js';
import { darkSteps } from '../../src/core/ledger/findingsTeach.js';

const alike = (values: readonly number[]) => values.map((value) => ({ value, weight: 1 }));

describe('isotonic regression', () => {
  // Source: Robertson, Wright and Dykstra 1988, Order Restricted Statistical Inference, page 10, as quoted by the test
  // of the Julia package MultipleTesting.
  it('gives the textbook pools, with weights', () => {
    const values = [22.5, 23.333, 20.833, 24.25].map((value, i) => ({ value, weight: [3, 3, 3, 2][i]! }));
    for (const [i, fit] of isotonic(values).entries())
      expect(fit).toBeCloseTo([22.222, 22.222, 22.222, 24.25][i]!, 3);
  });

  // Source: the tests of scikit-learn, test_isotonic.py.
  it.each([
    [
      [3, 7, 5, 9, 8, 7, 10],
      [3, 6, 6, 8, 8, 8, 10],
    ],
    [
      [10, 0, 2],
      [4, 4, 4],
    ],
  ])('gives %j as %j', (values, fitted) => {
    expect(isotonic(alike(values))).toEqual(fitted);
  });

  // Source: the test of the Julia package Isotonic.
  it('gives weighted pools', () => {
    const weighed = [1, 41, 51, 1, 2, 5, 24].map((value, i) => ({ value, weight: i + 1 }));
    const expected = [1, 13.95, 13.95, 13.95, 13.95, 13.95, 24];
    for (const [i, fit] of isotonic(weighed).entries()) expect(fit).toBeCloseTo(expected[i]!, 9);
  });

  // Source: the example of R's isoreg; data and fit from memory.
  it('gives what R gives for its own example', () => {
    expect(isotonic(alike([1, 0, 4, 3, 3, 5, 4, 2, 0]))).toEqual([0.5, 0.5, 3, 3, 3, 3, 3, 3, 3]);
  });
});

describe('the share gone dark', () => {
  // Source: the documentation of the package curstatCI (Groeneboom and Hendrickx 2017): the estimate at the observation
  // times is the left derivative of the greatest convex minorant of the points (services so far, dark so far).
  it('is the slope of the greatest convex minorant, found here by its corners', () => {
    const look = fc.record({ terrainHours: fc.integer({ min: 1, max: 30 }), isDark: fc.boolean() });
    fc.assert(
      fc.property(fc.array(look, { minLength: 1, maxLength: 60 }), (seen) => {
        const hours = [...new Set(seen.map((one) => one.terrainHours))].sort((a, b) => a - b);
        const upTo = (limit: number) => seen.filter((one) => one.terrainHours <= limit);
        const points = [
          { x: 0, y: 0 },
          ...hours.map((limit) => ({
            x: upTo(limit).length,
            y: upTo(limit).filter((one) => one.isDark).length,
          })),
        ];
        const slopes: number[] = [];
        for (let i = 0; i < points.length - 1; ) {
          const slope = (j: number) => (points[j]!.y - points[i]!.y) / (points[j]!.x - points[i]!.x);
          let corner = i + 1;
          for (let j = i + 1; j < points.length; j++) if (slope(j) <= slope(corner) + 1e-12) corner = j;
          for (let j = i; j < corner; j++) slopes.push(slope(corner));
          i = corner;
        }
        const steps = darkSteps(seen);
        for (const [i, limit] of hours.entries()) {
          const share = steps.findLast((step) => step.hours <= limit)!.share;
          expect(share).toBeCloseTo(slopes[i]!, 9);
        }
      }),
    );
  });
});

describe('pairs ranked right', () => {
  // Source: the example of scikit-learn's roc_auc_score; from memory.
  it('gives the area of the usual example', () => {
    const scored = [0.1, 0.4, 0.35, 0.8].map((score, i) => ({ score, isHit: i >= 2 }));
    expect(shareRankedRight(scored)).toBe(0.75);
  });
});

describe('the Poisson-binomial law', () => {
  // Source: the README of the Python package fast-poibin.
  it('gives the published masses', () => {
    const { chances } = totalsOf([0.1, 0.2, 0.2].map((chance) => ({ chance, size: 1 })));
    for (const [i, mass] of [0.576, 0.352, 0.068, 0.004].entries()) expect(chances[i]).toBeCloseTo(mass, 12);
  });

  // Source: the binomial law, which it is where all chances are alike; 10 throws of a fair coin.
  it('is the binomial law where all chances are alike', () => {
    const { chances } = totalsOf(Array.from({ length: 10 }, () => ({ chance: 0.5, size: 1 })));
    const ways = [1, 10, 45, 120, 210, 252, 210, 120, 45, 10, 1];
    for (const [i, count] of ways.entries()) expect(chances[i]).toBeCloseTo(count / 1024, 12);
    expect(coverOf({ step: 1, chances }, 0.5)).toBe(5);
  });
});
