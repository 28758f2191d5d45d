import { expect, it } from 'vitest';
import { elevationQuality } from '../../../../src/core/ground/severity/elevationQuality.js';
import { UNSEEN } from '../../../../src/core/ground/severity/heightError.js';

const SOUND = { share: 0, unsure: 0.08, shownBy: 'rest' } as const;
const growing = (power: number, count = 4000) =>
  [60, 80, 120, 160].map((lagM) => ({ lagM, v: (lagM / 80) ** power, count }));
const fitted = (noiseM: number, roughness = 1) => ({ gradientChange: 0.0125, noiseM, roughness });

it('is near 1 for a long ride over ground, and 0 without any ground', () => {
  expect(elevationQuality(fitted(0), growing(2), 0, SOUND)).toBeGreaterThan(0.97);
  expect(elevationQuality({ ...fitted(1), roughness: 0 }, growing(0), 0, SOUND)).toBe(0);
});

it('falls with each of its reasons', () => {
  const best = elevationQuality(fitted(0.1), growing(2), 0, SOUND);
  expect(elevationQuality(fitted(0.1), growing(2, 100), 0, SOUND)).toBeLessThan(best);
  expect(elevationQuality(fitted(2), growing(2), 0, SOUND)).toBeLessThan(best);
  expect(elevationQuality(fitted(0.1), growing(0.8), 0, SOUND)).toBeLessThan(best);
  expect(elevationQuality(fitted(0.1), growing(2), 0.3, SOUND)).toBeLessThan(best);
});

it('is poor where most of V may be noise, yet never silent for that alone', () => {
  expect(elevationQuality(fitted(0), growing(2), 0.46, SOUND)).toBeLessThan(0.4);
  expect(elevationQuality(fitted(0), growing(2), 1, SOUND)).toBeGreaterThan(0.05);
});

it('is fair where nothing shows whether the heights are right, and poor where most of them are error', () => {
  const unseen = elevationQuality(fitted(0), growing(2), 0, UNSEEN);
  expect(unseen).toBeGreaterThan(0.6);
  expect(unseen).toBeLessThan(0.7);
  const wrong = { share: 0.8, unsure: 0.15, shownBy: 'again' } as const;
  expect(elevationQuality(fitted(0), growing(2), 0, wrong)).toBeLessThan(0.4);
});
