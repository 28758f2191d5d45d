import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../../src/core/chance/seededRandom.js';
import {
  altitudeNoiseOf,
  noiseWithin,
  stepVariance,
} from '../../../../src/core/ground/severity/altitudeNoise.js';
import { gaussian } from '../../../bench/evidence/iso8608.js';
import { madePath, waves } from './madeGround.js';

const noiseOf = (height: (xM: number, tS: number) => number) =>
  altitudeNoiseOf([madePath({ lengthM: 80_000, height })]);
const smooth = waves(3);

describe('altitude noise', () => {
  it('finds the step of the record, and none in what has none', () => {
    expect(noiseOf((x) => Math.round(smooth(x) * 5) / 5).stepM).toBeCloseTo(0.2, 9);
    expect(noiseOf((x) => Math.round(smooth(x))).stepM).toBe(1);
    expect(noiseOf(smooth).stepM).toBe(0);
  });

  it('finds white noise, which does not grow', () => {
    const next = gaussian(seededRandom('white'));
    const { variance, growth } = noiseOf(() => 0.5 * next());
    expect(variance).toBeGreaterThan(0.23);
    expect(variance).toBeLessThan(0.27);
    expect(growth).toBeLessThan(0.1);
  });

  it('finds a random walk of D a second: 6/20 · D · lag, growing in proportion', () => {
    const next = gaussian(seededRandom('walk'));
    let z = 0;
    const { variance, growth, lagS } = noiseOf(() => {
      z += 0.3 * next();
      return z;
    });
    expect(lagS).toBe(2);
    expect(variance / (0.3 * 0.09 * 2)).toBeGreaterThan(0.93);
    expect(variance / (0.3 * 0.09 * 2)).toBeLessThan(1.07);
    expect(growth).toBeGreaterThan(0.9);
  });

  it('takes nothing from ground, and all from a record that is noise', () => {
    const ground = noiseOf(smooth);
    expect(noiseWithin(ground, 4, 80)).toBe(0);
    const next = gaussian(seededRandom('all'));
    const white = noiseOf(() => next());
    expect(noiseWithin(white, 1, 80)).toBeGreaterThan(0.9);
  });

  it('bounds what steps add by their rounding error', () => {
    expect(stepVariance(1, 0.02, 1000)).toBeCloseTo(1 / 12, 12);
    expect(stepVariance(1, 0.02, 10)).toBeCloseTo(0.3 * 10 * 0.02, 12);
    expect(stepVariance(0, 0.02, 10)).toBe(0);
  });

  it('says nothing of no paths', () => {
    expect(altitudeNoiseOf([])).toMatchObject({ stepM: 0, variance: 0, growth: 0 });
  });
});
