import { describe, expect, it } from 'vitest';
import { sampleOrder } from '../../../../src/core/ground/samples/sampleOrder.js';
import { journey, recordingOf, START_MS } from '../../../fixtures/journey.js';

const BOUNDS = { earliestMs: Date.UTC(2001, 0, 1), latestMs: Date.UTC(2026, 0, 1) };
const timed = (times: readonly number[], spans?: readonly { from: number; to: number }[]) => {
  const recording = recordingOf(journey([{ seconds: times.length - 1, mps: 5 }]), spans ? { spans } : {});
  recording.samples.timeMs.set(times);
  return sampleOrder(recording, BOUNDS);
};
const seconds = (...s: number[]): number[] => s.map((one) => START_MS + one * 1000);

describe('the order of samples', () => {
  it('drops what went backward, and says how many', () => {
    const order = timed(seconds(0, 1, 2, 1, 2, 3, 4));
    expect(order.samples).toHaveLength(5);
    expect(order.notes).toEqual([{ code: 'time-backward', count: 2 }]);
  });

  it('lets two spans meet in one moment, but not two samples of one span', () => {
    const spans = [
      { from: 0, to: 2 },
      { from: 2, to: 4 },
    ];
    expect(timed(seconds(0, 5, 5, 6), spans).samples).toHaveLength(4);
    expect(timed(seconds(0, 5, 5, 6)).samples).toHaveLength(3);
  });

  it('leaves out the first samples of a clock that was set on the way', () => {
    const order = timed([Date.UTC(1989, 11, 31), Date.UTC(1989, 11, 31, 0, 0, 1), ...seconds(0, 1, 2)]);
    expect(Array.from(order.samples)).toEqual([2, 3, 4]);
    expect(order.firstMs).toBe(START_MS);
    expect(order.notes).toEqual([{ code: 'clock-wrong', count: 2 }]);
  });

  it('keeps a clock that was never set as it was read', () => {
    const order = timed([0, 1, 2].map((s) => Date.UTC(1990, 0, 1) + s * 1000));
    expect(order.samples).toHaveLength(3);
    expect(order.firstMs).toBe(Date.UTC(1990, 0, 1));
  });

  it('drops samples without a time among others', () => {
    const order = timed([START_MS, Number.NaN, START_MS + 2000]);
    expect(Array.from(order.samples)).toEqual([0, 2]);
    expect(order.notes).toEqual([{ code: 'time-missing', count: 1 }]);
  });

  it('keeps the order of the file where there is no time, or only one', () => {
    expect(timed([Number.NaN, Number.NaN])).toMatchObject({ untimed: true, firstMs: Number.NaN });
    expect(timed(seconds(3, 3, 3))).toMatchObject({ untimed: true, firstMs: START_MS + 3000 });
  });

  it('takes no sample from outside the spans', () => {
    const order = timed(seconds(0, 1, 2, 3, 4), [{ from: 1, to: 3 }]);
    expect(Array.from(order.samples)).toEqual([1, 2]);
  });
});
