import { describe, expect, it } from 'vitest';
import { NoteCounter } from '../../src/core/ground/samples/notes.js';
import { SampleColumns, sliceSamples } from '../../src/files/sampleColumns.js';

const filled = (count: number) => {
  const columns = new SampleColumns(new NoteCounter());
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

  it('gives the rows that are asked for, in their order', () => {
    expect([...filled(10).samples([7, 2]).timeMs]).toEqual([7, 2]);
  });

  it('takes an elevation where no bicycle can be as missing, and counts it', () => {
    const notes = new NoteCounter();
    const columns = new SampleColumns(notes);
    for (const ele of [-500, 12_607, -430, 5500, Number.NaN]) columns.push(0, 0, 0, ele, 0, 0);
    expect([...columns.samples().eleM]).toEqual([Number.NaN, Number.NaN, -430, 5500, Number.NaN]);
    expect(notes.list()).toEqual([{ code: 'elevation-out-of-range', count: 2 }]);
  });

  it('takes a speed or distance below zero or beyond all measure as missing, and counts it', () => {
    const notes = new NoteCounter();
    const columns = new SampleColumns(notes);
    for (const value of [-1, 0, 12, 1e36, Number.NaN]) columns.push(0, 0, 0, 0, value, value);
    const { distM, speedMps } = columns.samples();
    expect([...distM]).toEqual([Number.NaN, 0, 12, Number.NaN, Number.NaN]);
    expect([...speedMps]).toEqual([...distM]);
    expect(notes.list()).toEqual([
      { code: 'distance-out-of-range', count: 2 },
      { code: 'speed-out-of-range', count: 2 },
    ]);
  });

  it('slices a stretch', () => {
    const part = sliceSamples(filled(10).samples(), 3, 6);
    expect(part.count).toBe(3);
    expect([...part.timeMs]).toEqual([3, 4, 5]);
  });
});
