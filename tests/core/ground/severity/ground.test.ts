import { describe, expect, it } from 'vitest';
import { GAP, HALT, MOVING } from '../../../../src/core/ground/moving/moving.js';
import { RIDDEN } from '../../../../src/core/ground/moving/survey.js';
import { sampleOrder } from '../../../../src/core/ground/samples/sampleOrder.js';
import { keepSamples } from '../../../../src/core/ground/samples/steps.js';
import { groundPaths } from '../../../../src/core/ground/severity/ground.js';
import { journey, recordingOf, START_MS } from '../../../fixtures/journey.js';

const pathsWith = (states: readonly number[], taken = states.map(() => 1), eleM?: readonly number[]) => {
  const recording = recordingOf(journey([{ seconds: states.length - 1, mps: 5, upMps: 1 }]));
  if (eleM) recording.samples.eleM.set(eleM);
  const { kept } = keepSamples(recording, sampleOrder(recording, { earliestMs: 0, latestMs: START_MS * 2 }));
  const columns = {
    eleM: kept.eleM,
    stepM: new Float64Array(kept.count).fill(5),
    speedMps: kept.speedMps,
    states: Uint8Array.from(states),
  };
  return groundPaths(kept, columns, Uint8Array.from(taken), RIDDEN);
};

describe('paths of ridden ground', () => {
  it('run on over a halt, in moving metres and seconds, without the drift of the altimeter', () => {
    const states = [0, MOVING, MOVING, HALT, HALT, MOVING];
    const [only, ...others] = pathsWith(states, undefined, [10, 11, 12, 13, 14, 15]);
    expect(others).toEqual([]);
    expect(Array.from(only!.path.xM)).toEqual([0, 5, 10, 15]);
    expect(Array.from(only!.path.tS)).toEqual([0, 1, 2, 3]);
    expect(Array.from(only!.path.zM)).toEqual([10, 11, 12, 13]);
    expect(Array.from(only!.readM)).toEqual([10, 11, 12, 15]);
  });

  it('end at a gap, at a span and where steps are not taken', () => {
    const lengths = (states: readonly number[], taken?: readonly number[]) =>
      pathsWith(states, taken?.slice()).map(({ path }) => path.xM.at(-1));
    expect(lengths([0, MOVING, MOVING, GAP, MOVING])).toEqual([10, 5]);
    expect(lengths([0, MOVING, 0, MOVING, MOVING])).toEqual([5, 10]);
    expect(lengths([0, MOVING, MOVING, MOVING], [1, 1, 0, 1])).toEqual([5, 5]);
    expect(lengths([0, HALT, HALT])).toEqual([]);
  });
});
