import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../../src/core/chance/seededRandom.js';
import {
  fitGradientChange,
  groundVariance,
  seenShare,
  spacingIn,
  thirdDifference,
} from '../../../../src/core/ground/severity/gradientChange.js';
import { gridOf } from '../../../../src/core/ground/severity/groundGrid.js';
import { gaussian } from '../../../bench/evidence/iso8608.js';
import { madePath, waves } from './madeGround.js';

const none = () => 0;
const LAGS_M = [60, 80, 120, 160];
const model = (noise: number, roughness: number) =>
  LAGS_M.map((lagM) => ({ lagM, v: noise + roughness * (lagM / 80) ** 2, count: 500 }));

describe('lags', () => {
  it('are 60 to 160 m, without those that samples stand too far apart for', () => {
    const grids = [gridOf(madePath({ lengthM: 4000, height: waves(2) }), 0)!];
    const lagsAt = (spacingM: number) => groundVariance(grids, spacingM).variances.map(({ lagM }) => lagM);
    expect(lagsAt(5)).toEqual(LAGS_M);
    expect(lagsAt(102)).toEqual(LAGS_M);
    expect(lagsAt(103)).toEqual([80, 120, 160]);
  });

  it('need fifty values each', () => {
    const short = gridOf(madePath({ lengthM: 890, height: (x) => x % 7 }), 0)!;
    expect(groundVariance([short], 5).variances.map(({ lagM }) => lagM)).toEqual([60, 80, 120]);
  });
});

describe('third difference', () => {
  const grid = gridOf(madePath({ lengthM: 1000, height: (x) => x ** 3 / 1e6 }), 0)!;

  it('of a cubic is 6 times the lag cubed, squared over 20', () => {
    expect(thirdDifference(grid, 5, 40)).toBeCloseTo(((6 * 40 ** 3) / 1e6) ** 2 / 20, 9);
  });

  it('is none past the end, over sparse samples, or steeper than ground', () => {
    expect(thirdDifference(grid, grid.zM.length - 12, 40)).toBeNaN();
    const sparse = gridOf(madePath({ lengthM: 1000, speedMps: 4, everyS: 30, height: (x) => x }), 0)!;
    expect(thirdDifference(sparse, 5, 40)).toBeNaN();
    const cliff = gridOf(madePath({ lengthM: 1000, height: (x) => (x < 500 ? 0 : 80) }), 0)!;
    expect(thirdDifference(cliff, 48, 40)).toBeNaN();
  });

  it('counts as much as a tenth of the lag at most, so that one wall does not outweigh a ride', () => {
    const wall = gridOf(madePath({ lengthM: 1000, height: (x) => (x < 500 ? 0 : 15) }), 0)!;
    expect(thirdDifference(wall, 44, 40)).toBe(16);
  });
});

describe('what sparse samples hide', () => {
  /** V between straight lines over V, for ground with a generalised covariance of that power, by many phases. */
  const exactly = (spacing: number, covariance: (h: number) => number): number => {
    const variance = (weights: ReadonlyMap<number, number>): number => {
      let sum = 0;
      for (const [x, a] of weights) for (const [y, b] of weights) sum += a * b * covariance(Math.abs(x - y));
      return sum;
    };
    const thirds = [1, -3, 3, -1];
    const whole = variance(new Map(thirds.map((weight, k) => [k, weight])));
    const phases = 200;
    let seen = 0;
    for (let phase = 0; phase < phases; phase += 1) {
      const nodes = new Map<number, number>();
      thirds.forEach((weight, k) => {
        const at = k / spacing + phase / phases;
        const before = Math.floor(at);
        for (const [node, share] of [
          [before, 1 - (at - before)],
          [before + 1, at - before],
        ] as const)
          nodes.set(node * spacing, (nodes.get(node * spacing) ?? 0) + weight * share);
      });
      seen += variance(nodes) / phases;
    }
    return seen / whole;
  };

  it('is what straight lines between samples leave of ground that grows with the square or the cube of the lag', () => {
    // Source: third differences annul the quadratics of intrinsic random functions; h² ln h and h³ are generalised covariances (Matheron 1973, from memory).
    const square = (h: number) => (h > 0 ? h * h * Math.log(h) : 0);
    const cube = (h: number) => h ** 3;
    for (const spacing of [0.1, 0.25, 0.5, 0.8, 1, 1.25]) {
      expect(Math.abs(seenShare(spacing, 2) - exactly(spacing, square)), `2: ${spacing}`).toBeLessThan(0.04);
      expect(Math.abs(seenShare(spacing, 3) - exactly(spacing, cube)), `3: ${spacing}`).toBeLessThan(0.07);
    }
  });

  it('is put back: the same ground at any spacing', () => {
    const next = gaussian(seededRandom('ground of random gradients'));
    // A gradient that wanders: its bends are white, so V grows with the cube of the lag.
    const heights = [0];
    for (let grade = 0, i = 1; i < 60_000; i += 1) {
      grade = 0.999 * grade + 0.004 * next();
      heights.push(heights[i - 1]! + grade);
    }
    const height = (x: number) => heights[Math.min(heights.length - 1, Math.round(x))]!;
    const at = (everyS: number) => {
      const grid = gridOf(madePath({ lengthM: 59_000, speedMps: 5, everyS, height }), 0)!;
      return { spacing: spacingIn(grid, 100, 80), ...groundVariance([grid], 5 * everyS) };
    };
    const close = at(1);
    for (const everyS of [5, 10, 15]) {
      const sparse = at(everyS);
      expect(sparse.spacing).toBeCloseTo((5 * everyS) / 80, 9);
      for (const { lagM, v } of sparse.variances) {
        const same = close.variances.find((one) => one.lagM === lagM)!;
        expect(Math.abs(Math.log(v / same.v)), `${everyS} s at ${lagM} m`).toBeLessThan(0.25);
      }
    }
  });
});

describe('fit', () => {
  it('finds noise and ground again', () => {
    const { gradientChange, noiseM, roughness } = fitGradientChange(model(0.04, 0.81), none)!;
    expect(noiseM).toBeCloseTo(0.2, 9);
    expect(gradientChange).toBeCloseTo(0.9 / 80, 9);
    expect(roughness).toBeCloseTo(0.81, 9);
  });

  it('has no negative part', () => {
    const falling = LAGS_M.map((lagM) => ({ lagM, v: 40 / lagM, count: 500 }));
    expect(fitGradientChange(falling, none)!.gradientChange).toBe(0);
    const steep = LAGS_M.map((lagM) => ({ lagM, v: (lagM / 80) ** 3, count: 500 }));
    expect(fitGradientChange(steep, none)!.noiseM).toBe(0);
  });

  it('takes known noise off first and counts it as noise', () => {
    const { noiseM, roughness } = fitGradientChange(model(0.04, 0.81), () => 0.04)!;
    expect(roughness).toBeCloseTo(0.81, 9);
    expect(noiseM).toBeCloseTo(0.2, 9);
  });

  it('is none under two lags, and finite on level ground', () => {
    expect(fitGradientChange(model(0.1, 0.1).slice(0, 1), none)).toBeNull();
    expect(fitGradientChange(model(0, 0), none)).toMatchObject({ roughness: 0 });
  });
});
