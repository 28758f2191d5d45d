/**
 * Light from sRGB and CIELAB, against published values. Sources: IEC 61966-2-1 (the transfer function and its threshold);
 * ISO/CIE 11664-4 (CIELAB); the values of red, green and blue are those commonly printed for sRGB under D65, from memory.
 */
import { describe, expect, it } from 'vitest';
import { encodedOf, labOf, labOnPaper, linearOf, type Triple } from '../bench/evidence/colour.js';

describe('light from sRGB', () => {
  it('is 0 and 1 at the ends, and 0.2140 at 127.5', () => {
    expect([linearOf(0), linearOf(255)]).toEqual([0, 1]);
    expect(linearOf(127.5)).toBeCloseTo(0.214, 3);
    expect(linearOf(0.04045 * 255)).toBeCloseTo(0.0031308, 6);
  });

  it('comes back as it went for every value', () => {
    for (let value = 0; value <= 255; value++) expect(encodedOf(linearOf(value))).toBe(value);
  });
});

describe('CIELAB', () => {
  it.each([
    ['white', [255, 255, 255], [100, 0, 0]],
    ['black', [0, 0, 0], [0, 0, 0]],
    ['red', [255, 0, 0], [53.24, 80.09, 67.2]],
    ['green', [0, 255, 0], [87.73, -86.18, 83.18]],
    ['blue', [0, 0, 255], [32.3, 79.19, -107.86]],
  ] as const)('of %s', (_, rgb, lab) => {
    const [l, a, b] = labOf(rgb.map(linearOf) as unknown as Triple);
    for (const [got, wanted] of [
      [l, lab[0]],
      [a, lab[1]],
      [b, lab[2]],
    ] as const)
      expect(Math.abs(got - wanted)).toBeLessThan(0.06);
  });

  it('of a grey that sends back 18.42 % of the light is L* 50', () => {
    const [l, a, b] = labOf([0.1842, 0.1842, 0.1842]);
    expect([l, a, b]).toEqual([expect.closeTo(50, 1), expect.closeTo(0, 6), expect.closeTo(0, 6)]);
  });

  it('with the paper as white forgets how much light there was, and its cast', () => {
    const spot: Triple = [0.2, 0.12, 0.06];
    const paper: Triple = [0.9, 0.9, 0.9];
    const lamp = (of: Triple): Triple => [of[0] * 0.8, of[1] * 0.5, of[2] * 0.2];
    const [l, a, b] = labOnPaper(lamp(spot), lamp(paper));
    const [wantedL, wantedA, wantedB] = labOnPaper(spot, paper);
    expect([l, a, b]).toEqual([
      expect.closeTo(wantedL, 9),
      expect.closeTo(wantedA, 9),
      expect.closeTo(wantedB, 9),
    ]);
  });
});
