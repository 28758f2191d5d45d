import { describe, expect, it } from 'vitest';
import { MOVING } from '../../../../src/core/ground/moving/moving.js';
import {
  leftOut,
  movingIntervals,
  riddenMetres,
  secondsOfIntervals,
} from '../../../../src/core/ground/moving/stepSums.js';
import { aboardOf, DRIVEN, LIFTED, RIDDEN, surveyOf } from '../../../../src/core/ground/moving/survey.js';
import { sampleOrder } from '../../../../src/core/ground/samples/sampleOrder.js';
import { keepSamples } from '../../../../src/core/ground/samples/steps.js';
import { journey, type Leg, type RecordedHow, recordingOf, START_MS } from '../../../fixtures/journey.js';
import { switchbacks, uneven } from '../../../fixtures/readJourney.js';

const ride: Leg = { seconds: 600, mps: uneven(5), upMps: -0.6, turn: switchbacks(60) };
const lift: Leg = { seconds: 300, mps: 3, upMps: 0.9, turnAround: 90 };
const drive: Leg = { seconds: 300, mps: 30 };

const survey = (legs: readonly Leg[], how: RecordedHow = {}) => {
  const recording = recordingOf(journey(legs), how);
  const { kept } = keepSamples(recording, sampleOrder(recording, { earliestMs: 0, latestMs: START_MS * 2 }));
  return surveyOf(kept, false);
};
const OUTDOORS = { indoor: false, motor: false };
const count = (aboard: Uint8Array, whose: number): number => aboard.filter((one) => one === whose).length;

describe('whose each step is', () => {
  const surveyed = survey([ride, lift, ride, { seconds: 70, mps: 0 }, drive, { seconds: 70, mps: 0 }]);
  const { aboard } = aboardOf(surveyed, OUTDOORS);

  it('is told by the stretches of lifts and vehicles', () => {
    expect(Math.abs(count(aboard, LIFTED) - 300)).toBeLessThanOrEqual(10);
    expect(Math.abs(count(aboard, DRIVEN) - 300)).toBeLessThanOrEqual(10);
  });

  it('adds up to all that moved', () => {
    const all = [RIDDEN, LIFTED, DRIVEN].map((whose) =>
      secondsOfIntervals(movingIntervals(surveyed, aboard, whose as typeof RIDDEN)),
    );
    expect(all.reduce((sum, s) => sum + s, 0)).toBe(
      surveyed.states.filter((state) => state === MOVING).length,
    );
    expect(leftOut(surveyed, aboard)).toEqual([
      { code: 'lift', s: all[1] },
      { code: 'vehicle', s: all[2] },
    ]);
  });

  it('is the rider’s throughout indoors', () => {
    expect(count(aboardOf(surveyed, { indoor: true, motor: false }).aboard, RIDDEN)).toBe(
      surveyed.kept.count,
    );
  });
});

describe('ridden metres', () => {
  it('leave out lifts and vehicles', () => {
    const surveyed = survey([ride, lift, ride]);
    const truth = 2 * journey([ride]).at(-1)!.distM;
    expect(Math.abs(riddenMetres(surveyed, aboardOf(surveyed, OUTDOORS).aboard) / truth - 1)).toBeLessThan(
      0.01,
    );
  });

  it('count of a jittering halt only the way from its first to its last position', () => {
    const surveyed = survey([ride, { seconds: 600, mps: 0 }], { format: 'gpx', jitterM: 2 });
    const halt =
      riddenMetres(surveyed, aboardOf(surveyed, OUTDOORS).aboard) -
      riddenMetres(survey([ride], { format: 'gpx', jitterM: 2 }), new Uint8Array(601).fill(RIDDEN));
    expect(Math.abs(halt)).toBeLessThan(60);
  });
});
