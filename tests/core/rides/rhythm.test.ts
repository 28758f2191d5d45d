import { describe, expect, it } from 'vitest';
import type { Stretch } from '../../../src/core/ground/samples/intervals.js';
import { fitsOf, isZoneStep } from '../../../src/core/rides/rhythm.js';

const S = 1000;
const seconds = (...stretches: readonly Stretch[]): Stretch[] =>
  stretches.map(([from, to]) => [from * S, to * S]);
const later = (stretches: readonly Stretch[], ms: number): Stretch[] =>
  stretches.map(([from, to]) => [from + ms, to + ms]);
const RHYTHM = seconds([0, 700], [760, 1500], [1512, 2000], [2600, 4000]);

describe('the shift under which two recordings coincide', () => {
  it('is found to the second, whatever it is', () => {
    for (const ms of [17_000, -754_000, 3_600_000, 50_399_000])
      expect(fitsOf(RHYTHM, later(RHYTHM, ms))[0]).toMatchObject({
        shiftMs: -ms,
        share: 1,
        moments: 1,
        evidence: 7,
      });
  });

  it('is found of a piece, whose own ends are no moments of the other', () => {
    const piece = later(seconds([900, 1500], [1512, 2000], [2600, 3000]), 5_000_000);
    expect(fitsOf(RHYTHM, piece)[0]).toMatchObject({
      shiftMs: -5_000_000,
      share: 1,
      moments: 1,
      evidence: 3,
    });
  });

  it('forgives short halts that the other did not see, and ten seconds at each edge', () => {
    const other = later(seconds([4, 705], [755, 2003], [2598, 3995]), 600_000);
    const [best] = fitsOf(RHYTHM, other);
    expect(Math.abs(best!.shiftMs + 600_000)).toBeLessThanOrEqual(5000);
    expect(best!.share).toBeGreaterThan(0.99);
    expect(best!.moments).toBe(1);
  });

  it('is never more than 15 hours, and none where nothing moves', () => {
    expect(fitsOf(RHYTHM, later(RHYTHM, 16 * 3_600_000))).toEqual([]);
    expect(fitsOf(RHYTHM, [])).toEqual([]);
  });

  it('brings little together where the rhythm is another', () => {
    const other = seconds([0, 1100], [1300, 1900], [2100, 4100]);
    for (const { share, moments } of fitsOf(RHYTHM, other)) expect(share > 0.95 && moments > 0.9).toBe(false);
  });
});

it('zones lie a quarter of an hour apart', () => {
  const minutes = (m: number): boolean => isZoneStep(m * 60_000, 2000);
  expect([15, -345, 330, 60, 0, 7, 52].map(minutes)).toEqual([true, true, true, true, false, false, false]);
});
