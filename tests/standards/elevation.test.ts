import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/core/chance/seededRandom.js';
import { climbOf } from '../../src/core/ground/samples/elevation.js';

describe('climbed metres by the last accepted reference', () => {
  // Computed from a worked example on a web page about hysteresis (the page's own naive gain, 14, is a slip).
  const example = [12, 17, 15, 20, 22, 18, 15, 16, 14, 12];
  it.each([
    [2, 12, 12],
    [3, 8, 8],
    [5, 10, 7],
  ])('with a threshold of %i m gives +%i and -%i', (threshold, ascentM, descentM) => {
    expect(climbOf(example, threshold)).toEqual({ ascentM, descentM });
  });

  it('without a threshold gives the naive gain of 13', () => {
    expect(climbOf(example, 1e-9).ascentM).toBe(13);
  });

  it('is not monotone in the threshold, which is why the variant is pinned', () => {
    expect(climbOf(example, 5).ascentM).toBeGreaterThan(climbOf(example, 3).ascentM);
  });

  it('takes white noise for climbing as E = N·σ/√π foretells, unless a threshold stands above it', () => {
    // Computed: 3600 samples of 1 m noise climb 2031 m naively.
    const random = seededRandom('phantom ascent');
    const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
    const noise = Array.from({ length: 3600 }, normal);
    expect(climbOf(noise, 1e-9).ascentM / 2031).toBeGreaterThan(0.96);
    expect(climbOf(noise, 1e-9).ascentM / 2031).toBeLessThan(1.04);
    expect(climbOf(noise, 10).ascentM).toBe(0);
  });
});
