import { describe, expect, it } from 'vitest';
import { relationOf } from '../../../src/core/rides/sameRide.js';

const MINUTE = 60_000;
const outing = (
  from: number,
  to: number,
  sketch: readonly number[] | null = null,
  movingS = (to - from) * 60,
) => ({
  startMs: from * MINUTE,
  endMs: to * MINUTE,
  movingS,
  sketch,
});
/** A sketch is compared by core/sketch; any one is the same as itself. */
const LOOP = [
  12_000,
  3_000,
  ...Array.from({ length: 48 }, (_, i) => Math.round(1000 * Math.sin((Math.PI * (i + 1)) / 49))),
  700,
  300,
  300,
  700,
];

describe('one ride', () => {
  it('two recorders that share at least half of the shorter', () => {
    expect(relationOf(outing(0, 120), outing(10, 140))).toBe('same');
    expect(relationOf(outing(0, 120), outing(100, 140))).toBe('same');
    expect(relationOf(outing(0, 300), outing(100, 110))).toBe('same');
  });
  it('is the same either way round', () => {
    expect(relationOf(outing(100, 140), outing(0, 120))).toBe('same');
  });
});

describe('two rides', () => {
  it('one after the other, also where clocks differ by a minute', () => {
    expect(relationOf(outing(0, 60), outing(60, 120))).toBe('apart');
    expect(relationOf(outing(0, 61), outing(60, 120))).toBe('apart');
  });
  it('the same way at another hour that no zone explains, or on another day', () => {
    expect(relationOf(outing(0, 60, LOOP), outing(127, 187, LOOP))).toBe('apart');
    expect(relationOf(outing(0, 60, LOOP), outing(1440, 1500, LOOP))).toBe('apart');
  });
});

describe('to be asked about', () => {
  it('more than a minute in common and less than half', () => {
    expect(relationOf(outing(0, 62), outing(60, 120))).toBe('unclear');
    expect(relationOf(outing(0, 89), outing(60, 120))).toBe('unclear');
  });
  it('the same way, shifted by quarter hours up to 14 hours, with equal moving time', () => {
    expect(relationOf(outing(0, 60, LOOP), outing(75, 135, LOOP))).toBe('shifted');
    expect(relationOf(outing(0, 60, LOOP), outing(840, 900, LOOP))).toBe('shifted');
    expect(relationOf(outing(0, 60, LOOP), outing(855, 915, LOOP))).toBe('apart');
    expect(relationOf(outing(0, 60, LOOP), outing(75, 135, LOOP, 3560))).toBe('apart');
    expect(relationOf(outing(0, 60, null), outing(75, 135, null))).toBe('apart');
  });
});
