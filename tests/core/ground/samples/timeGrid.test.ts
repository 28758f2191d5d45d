import { describe, expect, it } from 'vitest';
import { planeOf } from '../../../../src/core/ground/samples/ellipsoid.js';
import { sampleOrder } from '../../../../src/core/ground/samples/sampleOrder.js';
import { keepSamples } from '../../../../src/core/ground/samples/steps.js';
import { runsOf, stretchOf, timeGrids } from '../../../../src/core/ground/samples/timeGrid.js';
import { journey, recordingOf, START_MS } from '../../../fixtures/journey.js';

const gridsOf = (change: (timeMs: Float64Array, eleM: Float64Array) => void = () => undefined) => {
  const recording = recordingOf(journey([{ seconds: 300, mps: 4, upMps: 0.5 }]));
  change(recording.samples.timeMs, recording.samples.eleM);
  const { kept } = keepSamples(recording, sampleOrder(recording, { earliestMs: 0, latestMs: START_MS * 2 }));
  const stepM = kept.begins.map((begins) => (begins === 1 ? 0 : 4));
  return timeGrids(kept, {
    plane: planeOf(kept.lat, kept.lon),
    eleM: kept.eleM,
    stepM: Float64Array.from(stepM),
  });
};

describe('the way by even steps of time', () => {
  it('has a node every 5 s, from first to last', () => {
    const [grid] = gridsOf();
    expect(grid!.count).toBe(61);
    expect(grid!.wayM[60]).toBeCloseTo(1200, 6);
    expect(grid!.zM[60]! - grid!.zM[0]!).toBeCloseTo(150, 0);
    expect(stretchOf(grid!, 0, 60)).toEqual([START_MS, START_MS + 300_000]);
  });

  it('is cut by a step of more than a minute', () => {
    const grids = gridsOf((timeMs) => {
      for (let i = 150; i < timeMs.length; i++) timeMs[i]! += 61_000;
    });
    expect(grids.map(({ count }) => count)).toEqual([30, 31]);
  });

  it('fills short holes in a column and leaves long ones open', () => {
    const [grid] = gridsOf((_, eleM) => {
      eleM.fill(Number.NaN, 11, 30);
      eleM.fill(Number.NaN, 101, 180);
    });
    expect(grid!.zM[4]).toBeCloseTo(510, 0);
    expect(grid!.zM[28]).toBeNaN();
    expect(grid!.zM[40]).toBeCloseTo(600, 0);
  });
});

describe('runs of marks', () => {
  it('are half open, and reach the end', () => {
    expect(runsOf(Uint8Array.of(1, 1, 0, 0, 1, 0, 1))).toEqual([
      [0, 2],
      [4, 5],
      [6, 7],
    ]);
    expect(runsOf(new Uint8Array(3))).toEqual([]);
  });
});
