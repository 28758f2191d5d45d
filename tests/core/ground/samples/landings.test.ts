import { describe, expect, it } from 'vitest';
import { landingSpeed, landingsOf, landingsTogether } from '../../../../src/core/ground/samples/landings.js';

const jump = (atMs: number, hangS: number | null) => ({ atMs, hangS, distanceM: null });

describe('landings', () => {
  it('are those of the time that is read, with their time in the air', () => {
    const jumps = [jump(500, 0.9), jump(1000, 0.45), jump(2000, 0.76), jump(9000, 1)];
    expect(landingsOf({ jumpCount: 4, jumps }, 1000, 3000)).toEqual({
      count: 2,
      hangS: 1.21,
      longestS: 0.76,
    });
  });

  it('are not recorded where no session counts them and no jump is told, and none where it counts none', () => {
    expect(landingsOf(undefined, 0, 1)).toBeNull();
    expect(landingsOf({ jumpCount: null, jumps: [] }, 0, 1)).toBeNull();
    expect(landingsOf({ jumpCount: 0, jumps: [] }, 0, 1)).toEqual({ count: 0, hangS: 0, longestS: null });
  });

  it('may be counted without a time in the air, and a time that no bike is in the air adds nothing', () => {
    expect(landingsOf({ jumpCount: 7, jumps: [] }, 0, 1)).toEqual({ count: 7, hangS: 0, longestS: null });
    const jumps = [jump(0, null), jump(0, -1), jump(0, 60), jump(0, Number.NaN), jump(0, 0.3)];
    expect(landingsOf({ jumpCount: null, jumps }, 0, 1)).toEqual({ count: 5, hangS: 0.3, longestS: 0.3 });
  });

  it('are added up in any order to the hundredth, and stay unknown where nobody recorded them', () => {
    const some = [0.1, 0.2, 0.7].map((s) => landingsOf({ jumpCount: 1, jumps: [jump(0, s)] }, 0, 1));
    expect(landingsTogether(some)).toEqual({ count: 3, hangS: 1, longestS: 0.7 });
    expect(landingsTogether([...some].reverse())).toEqual(landingsTogether(some));
    expect(landingsTogether([null, undefined])).toBeNull();
  });

  // Source: free fall from rest, v = g·t, over half the time in the air; g of ISO 80000-3.
  it.each([
    [0.45, 2.21],
    [0.76, 3.73],
    [0.5, 2.45],
  ])('after %d s in the air meet level ground at %d m/s', (hangS, mps) => {
    expect(landingSpeed(hangS)).toBeCloseTo(mps, 2);
  });
});
