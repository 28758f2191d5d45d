import { describe, expect, it } from 'vitest';
import { asksAboutClimbs, beliefOf, isLikelyRidden } from '../../../../src/core/ground/climbs/dayClimbs.js';
import type { Climb } from '../../../../src/core/ground/samples/reading.js';
import type { Leg } from '../../../fixtures/journey.js';
import { readLegs, switchbacks, uneven } from '../../../fixtures/readJourney.js';

const climb = (chance: number, minutes: number, motorChance = 0): Climb => ({
  ...{ fromMs: 0, toMs: minutes * 60_000, upM: 100, wayM: 1000, classS: [], isIn: chance < 0.5 },
  ...{ moving: [[0, minutes * 60_000]], chance, motorChance, heartBpm: null, cadenceRpm: null, powerW: null },
});

describe('a question about climbs', () => {
  it('is asked where enough of the day is unsure, and not about what is sure', () => {
    expect(asksAboutClimbs([climb(0.5, 10)], false, 6000)).toBe(true);
    expect(asksAboutClimbs([climb(0.95, 10), climb(0.05, 10)], false, 6000)).toBe(false);
    expect(asksAboutClimbs([climb(0.5, 1.5)], false, 6000)).toBe(false);
    expect(asksAboutClimbs([climb(0.5, 4)], false, 20_000)).toBe(false);
  });

  it('is asked of a ride with a motor before anything is left out', () => {
    expect(asksAboutClimbs([climb(0.99, 10, 0.99)], true, 6000)).toBe(true);
    expect(asksAboutClimbs([climb(0.99, 10, 0.3)], true, 6000)).toBe(false);
  });

  it('goes with what is believed meanwhile', () => {
    expect([0.05, 0.5, 0.95].map(beliefOf)).toEqual(['ridden', 'unsure', 'carried']);
    expect(isLikelyRidden({ chance: 0.9, motorChance: 0.1 }, true)).toBe(true);
    expect(isLikelyRidden({ chance: 0.9, motorChance: 0.1 }, false)).toBe(false);
  });
});

it('climbs of a day are told with their height and time, the queue and the ride beside them left alone', () => {
  const down: Leg = { seconds: 300, mps: uneven(6), upMps: -1.4, turn: switchbacks(40), turnAround: 180 };
  const roll: Leg = { seconds: 60, mps: 3 };
  const chair: Leg = { seconds: 600, mps: 3, upMps: 0.7, turnAround: 180 };
  const queue: Leg = { seconds: 100, mps: 0 };
  const { climbs } = readLegs([down, roll, queue, chair, queue, roll, down, roll, queue, chair, queue, down]);
  expect(climbs).toHaveLength(2);
  for (const { fromMs, toMs, upM } of climbs!) {
    expect(Math.abs(toMs - fromMs - 600_000)).toBeLessThanOrEqual(15_000);
    expect(Math.abs(upM - 420)).toBeLessThan(15);
  }
});
