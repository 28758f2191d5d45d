import { describe, expect, it } from 'vitest';
import {
  fitGradientChange,
  lagsFor,
  lagVariances,
  thirdDifference,
} from '../../../../src/core/ground/severity/gradientChange.js';
import { gridOf } from '../../../../src/core/ground/severity/groundGrid.js';
import { madePath } from './madeGround.js';

const none = () => 0;
const model = (noise: number, roughness: number) =>
  lagsFor(5).map((lagM) => ({ lagM, v: noise + roughness * (lagM / 80) ** 2, count: 500 }));

describe('lags', () => {
  it('are 40 to 160 m, longer where samples stand further apart', () => {
    expect(lagsFor(5)).toEqual([40, 60, 80, 120, 160]);
    expect(lagsFor(40)).toEqual([40, 60, 80, 120, 160]);
    expect(lagsFor(73)).toEqual([70, 110, 150, 220, 290]);
  });
});

describe('third difference', () => {
  const grid = gridOf(madePath({ lengthM: 1000, height: (x) => x ** 3 / 1e6 }), 0)!;

  it('of a cubic is 6 times the lag cubed, squared over 20', () => {
    expect(thirdDifference(grid, 5, 40, 60)).toBeCloseTo(((6 * 40 ** 3) / 1e6) ** 2 / 20, 9);
  });

  it('is none past the end, over sparse samples, or steeper than ground', () => {
    expect(thirdDifference(grid, grid.zM.length - 12, 40, 60)).toBeNaN();
    expect(thirdDifference(grid, 5, 40, 3)).toBeNaN();
    const cliff = gridOf(madePath({ lengthM: 1000, height: (x) => (x < 500 ? 0 : 80) }), 0)!;
    expect(thirdDifference(cliff, 48, 40, 60)).toBeNaN();
  });

  it('needs fifty values at a lag', () => {
    const short = gridOf(madePath({ lengthM: 700, height: (x) => x % 7 }), 0)!;
    expect(lagVariances([short], [40, 60, 80], 60).map(({ lagM }) => lagM)).toEqual([40, 60]);
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
    const falling = lagsFor(5).map((lagM) => ({ lagM, v: 40 / lagM, count: 500 }));
    expect(fitGradientChange(falling, none)!.gradientChange).toBe(0);
    const steep = lagsFor(5).map((lagM) => ({ lagM, v: (lagM / 80) ** 3, count: 500 }));
    expect(fitGradientChange(steep, none)!.noiseM).toBe(0);
  });

  it('takes known noise off first and counts it as noise', () => {
    const { noiseM, roughness } = fitGradientChange(model(0.04, 0.81), () => 0.04)!;
    expect(roughness).toBeCloseTo(0.81, 9);
    expect(noiseM).toBeCloseTo(0.2, 9);
  });

  it('is none under three lags, and finite on level ground', () => {
    expect(fitGradientChange(model(0.1, 0.1).slice(0, 2), none)).toBeNull();
    expect(fitGradientChange(model(0, 0), none)).toMatchObject({ roughness: 0 });
  });
});
