import { expect, it } from 'vitest';
import { ascentsOf } from '../../../../src/core/ground/climbs/stages.js';
import { type Traits, traitsOf } from '../../../../src/core/ground/climbs/traits.js';
import { surveyOf } from '../../../../src/core/ground/moving/survey.js';
import { sampleOrder } from '../../../../src/core/ground/samples/sampleOrder.js';
import { keepSamples } from '../../../../src/core/ground/samples/steps.js';
import { timeGrids } from '../../../../src/core/ground/samples/timeGrid.js';
import { journey, type Leg, recordingOf, START_MS } from '../../../fixtures/journey.js';
import { switchbacks, uneven } from '../../../fixtures/readJourney.js';

const traits = (leg: Leg): Traits => {
  const recording = recordingOf(journey([{ seconds: 100, mps: 5, upMps: -1 }, leg]));
  const { kept } = keepSamples(recording, sampleOrder(recording, { earliestMs: 0, latestMs: START_MS * 2 }));
  const { plane, eleM, distances } = surveyOf(kept, false);
  return traitsOf(ascentsOf(timeGrids(kept, { plane, eleM, stepM: distances.stepM })[0]!)[0]!);
};

it('a lift is straight and steady, a pedalled climb is neither', () => {
  const lift = traits({ seconds: 600, mps: 3, upMps: 0.7 });
  expect(lift.straightness).toBeGreaterThan(0.995);
  expect(lift.unsteadiness).toBeLessThan(0.03);
  const climb = traits({ seconds: 600, mps: uneven(3), upMps: 0.3, turn: switchbacks(45) });
  expect(climb.straightness).toBeLessThan(0.9);
  expect(climb.unsteadiness).toBeGreaterThan(0.1);
});

it('tells height, way and time on the move, and what the rider did where it was recorded', () => {
  const seen = traits({
    seconds: 600,
    mps: 3,
    upMps: 0.4,
    heart: 150,
    cadence: (s) => (s % 10 < 7 ? 80 : 0),
  });
  expect(Math.abs(seen.upM - 240)).toBeLessThan(5);
  expect(Math.abs(seen.wayM / 1800 - 1)).toBeLessThan(0.03);
  expect(Math.abs(seen.seconds - 600)).toBeLessThanOrEqual(15);
  expect(seen.heartBpm).toBe(150);
  expect(seen.pedalled).toBeGreaterThan(0.5);
  const bare = traits({ seconds: 600, mps: 3, upMps: 0.4 });
  expect([bare.heartBpm, bare.cadenceRpm, bare.pedalled]).toEqual([null, null, null]);
});
