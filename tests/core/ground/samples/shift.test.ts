import { describe, expect, it } from 'vitest';
import { planeOf } from '../../../../src/core/ground/samples/ellipsoid.js';
import { sampleOrder } from '../../../../src/core/ground/samples/sampleOrder.js';
import { type ShiftSpeed, shiftSpeeds } from '../../../../src/core/ground/samples/shift.js';
import { keepSamples } from '../../../../src/core/ground/samples/steps.js';
import { journey, type Leg, recordingOf, START_MS } from '../../../fixtures/journey.js';

const shifts = (leg: Leg, jitterM: number) => {
  const recording = recordingOf(journey([leg]), { format: 'gpx', jitterM, seed: 'shift' });
  const { kept } = keepSamples(recording, sampleOrder(recording, { earliestMs: 0, latestMs: START_MS * 2 }));
  const { shortMps, longMps } = shiftSpeeds(kept, planeOf(kept.lat, kept.lon));
  const all = (speed: ShiftSpeed) => Float64Array.from({ length: kept.count }, (_, step) => speed(step));
  return { shortMps: all(shortMps), longMps: all(longMps), again: all(shortMps), longMpsAt: longMps };
};
const most = (column: Float64Array): number => Math.max(...column.filter((v) => !Number.isNaN(v)));

describe('the shift of mean positions', () => {
  it('is the speed of a straight ride', () => {
    const { shortMps, longMps } = shifts({ seconds: 200, mps: 5 }, 0);
    expect(shortMps[100]).toBeCloseTo(5, 1);
    expect(longMps[100]).toBeCloseTo(5, 1);
    expect(longMps[1]).toBeCloseTo(5, 0);
    expect(shortMps[0]).toBeNaN();
  });

  it('is the same in whichever order steps are asked for', () => {
    const { shortMps, again, longMps, longMpsAt } = shifts({ seconds: 300, mps: 3, turn: 17 }, 3);
    expect(again).toEqual(shortMps);
    for (const step of [299, 1, 150, 149, 0, 20, 298]) expect(longMpsAt(step)).toBe(longMps[step]);
  });

  it('stays under the thresholds of moving at rest with 3 m of jitter', () => {
    const { shortMps, longMps } = shifts({ seconds: 3000, mps: 0 }, 3);
    // Away from the ends, where the windows are cut short.
    expect(most(longMps.subarray(16, -16))).toBeLessThan(0.5);
    expect(most(shortMps.subarray(16, -16))).toBeLessThan(1.5);
  });

  it('sees a small circle in the short window that the long one loses', () => {
    const { shortMps, longMps } = shifts({ seconds: 300, mps: 3, turn: 17 }, 0);
    expect(shortMps[150]).toBeGreaterThan(1.5);
    expect(longMps[150]).toBeLessThan(0.5);
  });
});
