import { expect, it } from 'vitest';
import { ascentsOf } from '../../../../src/core/ground/climbs/stages.js';
import { type Traits, traitsOf } from '../../../../src/core/ground/climbs/traits.js';
import type { Leg } from '../../../fixtures/journey.js';
import { switchbacks, uneven } from '../../../fixtures/readJourney.js';
import { gridOf } from './gridOf.js';

const traits = (leg: Leg): Traits =>
  traitsOf(ascentsOf(gridOf([{ seconds: 100, mps: 5, upMps: -1 }, leg]))[0]!);

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
