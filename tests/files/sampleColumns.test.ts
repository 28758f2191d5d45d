import { describe, expect, it } from 'vitest';
import { SampleColumns } from '../../src/files/sampleColumns.js';

const filled = (count: number) => {
  const columns = new SampleColumns();
  for (let i = 0; i < count; i += 1) columns.push(i, i + 0.1, i + 0.2, i / 100, i + 0.4, i + 0.5);
  return columns;
};

describe('SampleColumns', () => {
  it('grows past its first size without losing a value', () => {
    const samples = filled(5000).samples();
    expect(samples.count).toBe(5000);
    expect([samples.timeMs[4999], samples.lat[4999], samples.lon[4999]]).toEqual([4999, 4999.1, 4999.2]);
    expect([samples.eleM[4999], samples.distM[4999], samples.speedMps[4999]]).toEqual([
      49.99, 4999.4, 4999.5,
    ]);
    expect(samples.timeMs.length).toBe(5000);
  });
});
