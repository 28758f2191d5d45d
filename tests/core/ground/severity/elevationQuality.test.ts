import { expect, it } from 'vitest';
import { elevationQuality } from '../../../../src/core/ground/severity/elevationQuality.js';
import { lagsFor } from '../../../../src/core/ground/severity/gradientChange.js';

const lagsM = lagsFor(5);
const growing = (power: number, count = 4000) =>
  lagsM.map((lagM) => ({ lagM, v: (lagM / 80) ** power, count }));
const fitted = (noiseM: number, roughness = 1) => ({ gradientChange: 0.0125, noiseM, roughness });

it('is near 1 for a long ride over ground, and 0 without any ground', () => {
  expect(elevationQuality(fitted(0), growing(2), lagsM, 0)).toBeGreaterThan(0.98);
  expect(elevationQuality({ ...fitted(1), roughness: 0 }, growing(0), lagsM, 0)).toBe(0);
});

it('falls with each of its reasons', () => {
  const best = elevationQuality(fitted(0.1), growing(2), lagsM, 0);
  expect(elevationQuality(fitted(0.1), growing(2, 100), lagsM, 0)).toBeLessThan(best);
  expect(elevationQuality(fitted(2), growing(2), lagsM, 0)).toBeLessThan(best);
  expect(elevationQuality(fitted(0.1), growing(0.8), lagsM, 0)).toBeLessThan(best);
  expect(elevationQuality(fitted(0.1), growing(2), lagsM, 0.3)).toBeLessThan(best);
});

it('is poor where most of V may be noise, yet never silent for that alone', () => {
  expect(elevationQuality(fitted(0), growing(2), lagsM, 0.46)).toBeLessThan(0.4);
  expect(elevationQuality(fitted(0), growing(2), lagsM, 1)).toBeGreaterThan(0.05);
});
