import { describe, expect, it } from 'vitest';
import { pickSamples, sliceSamples } from '../../../../src/core/ground/samples/rows.js';
import { madeSamples } from './madeSamples.js';

const samples = madeSamples(Array.from({ length: 10 }, (_, i) => ({ timeMs: i, lat: i, lon: -i })));

describe('rows of samples', () => {
  it('are picked in the order that is asked for, all columns alike', () => {
    const picked = pickSamples(samples, [7, 2]);
    expect([picked.count, [...picked.timeMs], [...picked.lat], [...picked.lon]]).toEqual([
      2,
      [7, 2],
      [7, 2],
      [-7, -2],
    ]);
  });

  it('are no copy where all are asked for as they stand', () => {
    expect(pickSamples(samples, [...samples.timeMs])).toBe(samples);
    expect(pickSamples(samples, [...samples.timeMs].reverse())).not.toBe(samples);
  });

  it('are sliced without a copy', () => {
    const part = sliceSamples(samples, 3, 6);
    expect([part.count, [...part.timeMs]]).toEqual([3, [3, 4, 5]]);
    expect(part.timeMs.buffer).toBe(samples.timeMs.buffer);
  });
});
