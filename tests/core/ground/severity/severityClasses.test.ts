import fc from 'fast-check';
import { expect, it } from 'vitest';
import { SEVERITY_CLASSES } from '../../../../src/core/ground/samples/reading.js';
import {
  HIGHEST,
  LOWEST,
  secondsByClass,
  severityOfClass,
} from '../../../../src/core/ground/severity/severityClasses.js';

const stretch = fc.record({
  movingS: fc.double({ min: 0.01, max: 900, noNaN: true }),
  severity: fc.double({ min: LOWEST, max: HIGHEST, noNaN: true }),
});

it('has classes whose bounds are 0.2 · 25^(i/16)', () => {
  for (let i = 0; i < SEVERITY_CLASSES; i += 1) {
    const [low, high] = [0.2 * 25 ** (i / 16), 0.2 * 25 ** ((i + 1) / 16)];
    expect(severityOfClass(i)).toBeCloseTo(Math.sqrt(low * high), 12);
  }
});

it('keeps the rounded sum', () => {
  fc.assert(
    fc.property(fc.array(stretch, { maxLength: 60 }), (stretches) => {
      const total = stretches.reduce((sum, { movingS }) => sum + movingS, 0);
      const classS = secondsByClass(stretches);
      expect(classS).toHaveLength(SEVERITY_CLASSES);
      expect(classS.every((s) => Number.isInteger(s) && s >= 0)).toBe(true);
      expect(Math.abs(classS.reduce((sum, s) => sum + s, 0) - total)).toBeLessThanOrEqual(0.5 + 1e-6);
    }),
  );
});

it('keeps the mean logarithm of what lies between the outer class middles', () => {
  const inner = fc.record({
    movingS: fc.integer({ min: 100, max: 900 }),
    severity: fc.double({ min: severityOfClass(0), max: severityOfClass(15), noNaN: true }),
  });
  fc.assert(
    fc.property(fc.array(inner, { minLength: 20, maxLength: 40 }), (stretches) => {
      const total = stretches.reduce((sum, { movingS }) => sum + movingS, 0);
      const exact = stretches.reduce((sum, { movingS, severity }) => sum + movingS * Math.log(severity), 0);
      const kept = secondsByClass(stretches).reduce((sum, s, i) => sum + s * Math.log(severityOfClass(i)), 0);
      expect(Math.abs(kept - exact) / total).toBeLessThan(0.01);
    }),
  );
});
