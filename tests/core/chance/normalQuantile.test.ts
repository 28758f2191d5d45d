import { describe, expect, it } from 'vitest';
import { normalQuantile } from '../../../src/core/chance/normalQuantile.js';

describe('normal quantile', () => {
  // Source: tables of the standard normal distribution (from memory).
  it.each([
    [0.5, 0],
    [0.8413447460685429, 1],
    [0.9, 1.2815515655446004],
    [0.975, 1.959963984540054],
    [0.001, -3.090232306167813],
  ])('of %f is %f', (probability, value) => {
    expect(normalQuantile(probability)).toBeCloseTo(value, 7);
  });

  it('rises and is odd around one half, also where its two formulas meet', () => {
    let before = Number.NEGATIVE_INFINITY;
    for (let i = 1; i < 2000; i++) {
      const value = normalQuantile(i / 2000);
      expect(value).toBeGreaterThan(before);
      expect(value).toBeCloseTo(-normalQuantile(1 - i / 2000), 9);
      before = value;
    }
  });
});
