import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../../src/core/chance/seededRandom.js';
import {
  climbOf,
  climbThreshold,
  isFlat,
  usableElevation,
} from '../../../../src/core/ground/samples/elevation.js';
import type { KeptSamples } from '../../../../src/core/ground/samples/steps.js';

const kept = (eleM: readonly number[]): KeptSamples => {
  const empty = new Float64Array(eleM.length).fill(Number.NaN);
  return {
    count: eleM.length,
    timeMs: Float64Array.from(eleM, (_, i) => i * 1000),
    lat: empty,
    lon: empty,
    eleM: Float64Array.from(eleM),
    distM: empty,
    speedMps: empty,
    begins: Uint8Array.from(eleM, (_, i) => (i === 0 ? 1 : 0)),
    hopM: empty,
  };
};

describe('elevations to rely on', () => {
  it('leave out absurd values and spikes, and count them', () => {
    const { eleM, dropped } = usableElevation(kept([500, 501, 12_607, 502, 900, 503, -900]));
    expect(Array.from(eleM)).toEqual([500, 501, Number.NaN, 502, Number.NaN, 503, Number.NaN]);
    expect(dropped).toBe(3);
  });

  it('join what came before a late first fix to what follows', () => {
    const late = [0, 1, 2, 3, ...[500, 501, 502, 503, 504, 505]];
    expect(Array.from(usableElevation(kept(late)).eleM)).toEqual([
      497, 498, 499, 500, 500, 501, 502, 503, 504, 505,
    ]);
  });

  it('leave missing ones missing', () => {
    expect(usableElevation(kept([Number.NaN, 5])).eleM[0]).toBeNaN();
  });

  it('are none where one value stands for all of a long way', () => {
    const steps = new Float64Array(400).fill(5);
    expect(isFlat(new Float64Array(400).fill(0), steps)).toBe(true);
    expect(isFlat(new Float64Array(200).fill(0), steps.subarray(0, 200))).toBe(false);
    const altimeter = Float64Array.from({ length: 400 }, (_, i) => (i % 50 === 0 ? 0.2 : 0));
    expect(isFlat(altimeter, steps)).toBe(false);
    expect(isFlat(new Float64Array(400).fill(Number.NaN), steps)).toBe(false);
  });
});

describe('climbed metres', () => {
  it('skip what is missing', () => {
    expect(climbOf([0, Number.NaN, 10, Number.NaN, 4], 2)).toEqual({ ascentM: 10, descentM: 6 });
    expect(climbOf([], 2)).toEqual({ ascentM: 0, descentM: 0 });
  });

  it('take small changes from an altimeter, and only large ones from a receiver', () => {
    const time = Float64Array.from({ length: 2000 }, (_, i) => i * 1000);
    const hills = time.map((ms) => 40 * Math.sin(ms / 120_000));
    const random = seededRandom('receiver');
    const altimeter = hills.map((z) => Math.round(z * 5) / 5);
    const receiver = hills.map((z) => z + (random() - 0.5) * 6);
    expect(climbThreshold(time, altimeter)).toBe(2);
    expect(climbThreshold(time, receiver)).toBe(5);
    const climbed = climbOf(hills, 1e-9).ascentM;
    expect(Math.abs(climbOf(altimeter, climbThreshold(time, altimeter)).ascentM / climbed - 1)).toBeLessThan(
      0.05,
    );
  });

  it('are taken as a receiver’s where nothing tells', () => {
    expect(climbThreshold(Float64Array.of(Number.NaN), Float64Array.of(5))).toBe(5);
  });
});
