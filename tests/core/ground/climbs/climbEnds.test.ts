import { expect, it } from 'vitest';
import {
  ENDS_UNKNOWN,
  endsOf,
  isLine,
  longestOf,
  wholeOf,
} from '../../../../src/core/ground/climbs/climbEnds.js';
import { type JudgedClimb, judgeClimbs, SURELY } from '../../../../src/core/ground/climbs/climbs.js';
import type { Leg } from '../../../fixtures/journey.js';
import { switchbacks, uneven } from '../../../fixtures/readJourney.js';
import { gridOf } from './gridOf.js';

const rests = { heart: 82, cadence: 0 };
const rides: Leg = { seconds: 300, mps: uneven(6), upMps: -1, turnAround: 180, heart: 145, cadence: 60 };
const drive: Leg = {
  ...rests,
  seconds: 600,
  mps: uneven(8),
  upMps: 0.6,
  turn: switchbacks(50),
  turnAround: 180,
};
const halt: Leg = { ...rests, seconds: 60, mps: 0 };

/** The stages of the first way up of a day, with the room for them. */
function firstOf(legs: readonly Leg[]): { stages: readonly JudgedClimb[]; room: readonly [number, number] } {
  const grid = gridOf(legs);
  const judged = judgeClimbs([grid]);
  const next = judged.findIndex(({ stage }, i) => i > 0 && judged[i - 1]!.stage.to < stage.from);
  return { stages: judged.slice(0, next), room: [0, judged[next]!.stage.from] };
}

it('of a drive are its halts', () => {
  const { stages, room } = firstOf([rides, halt, drive, halt, rides, halt, drive, halt, rides]);
  expect(isLine(longestOf(stages))).toBe(false);
  const { ends, chance } = endsOf(stages, room);
  expect(chance).toBeGreaterThanOrEqual(SURELY);
  expect(Math.abs(ends[0] * 5 - 360)).toBeLessThanOrEqual(5);
  expect(Math.abs(ends[1] * 5 - 960)).toBeLessThanOrEqual(5);
});

it('of a drive without a halt are its lowest and highest point, and it is asked about', () => {
  const { stages, room } = firstOf([rides, drive, rides, drive, rides]);
  const { ends, chance } = endsOf(stages, room);
  expect(longestOf(stages).chance).toBeGreaterThanOrEqual(SURELY);
  expect(chance).toBe(ENDS_UNKNOWN);
  expect(ends).toEqual(wholeOf(stages));
});

it('of a lift are where its pace begins and ends, whatever was rolled beside it', () => {
  const roll: Leg = { seconds: 60, mps: 3 };
  const chair: Leg = { seconds: 600, mps: 3, upMps: 0.7, turnAround: 180 };
  const { stages, room } = firstOf([rides, roll, halt, chair, roll, rides, roll, halt, chair, roll, rides]);
  expect(isLine(longestOf(stages))).toBe(true);
  const { ends } = endsOf(stages, room);
  expect(Math.abs(ends[0] * 5 - 420)).toBeLessThanOrEqual(15);
  expect(Math.abs(ends[1] * 5 - 1020)).toBeLessThanOrEqual(15);
});
