import { expect, it } from 'vitest';
import { driveEnds } from '../../../../src/core/ground/climbs/driveEnds.js';
import type { Leg } from '../../../fixtures/journey.js';
import { leftOutS, readLegs, switchbacks, uneven } from '../../../fixtures/readJourney.js';
import { gridOf } from './gridOf.js';

const halt: Leg = { seconds: 60, mps: 0 };
const flat: Leg = { seconds: 100, mps: 5 };
const dip: Leg = { seconds: 20, mps: 5, upMps: -0.9 };
const up: Leg = { seconds: 500, mps: 5, upMps: 0.4 };
const down: Leg = { seconds: 200, mps: 6, upMps: -1 };

it('reach from halt to halt, over a flat and a dip before the way up and after it', () => {
  const grid = gridOf([down, halt, flat, dip, up, dip, flat, halt, down]);
  const nodes = [(200 + 60 + 120) / 5, (200 + 60 + 120 + 500) / 5] as const;
  const [from, to] = driveEnds(grid, nodes, [0, grid.count - 1]);
  expect(Math.abs(from! * 5 - 260)).toBeLessThanOrEqual(5);
  expect(Math.abs(to! * 5 - 1000)).toBeLessThanOrEqual(5);
});

it('leave what was rolled to the halt before it to the ride', () => {
  const grid = gridOf([down, { ...flat, seconds: 40 }, halt, up, halt, flat, down]);
  const [from, to] = driveEnds(grid, [200 / 5, (240 + 60 + 500 + 60 + 20) / 5], [0, grid.count - 1]);
  expect(Math.abs(from! * 5 - 300)).toBeLessThanOrEqual(5);
  expect(Math.abs(to! * 5 - 800)).toBeLessThanOrEqual(5);
});

it('are unknown where no halt is near, and never pass their bounds', () => {
  const grid = gridOf([down, up, down]);
  expect(driveEnds(grid, [40, 140], [0, grid.count - 1])).toEqual([null, null]);
  expect(driveEnds(grid, [40, 140], [40, 140])).toEqual([40, 140]);
});

it('hold for a day: a drive that begins and ends on the flat is left out whole', () => {
  const rests = { heart: 82, cadence: 0 };
  const track: Leg = {
    ...rests,
    seconds: 600,
    mps: uneven(4),
    upMps: 0.3,
    turn: switchbacks(50),
    turnAround: 180,
  };
  const rides: Leg = { seconds: 240, mps: uneven(6), upMps: -0.75, turnAround: 180, heart: 145, cadence: 60 };
  const lap = [halt, { ...flat, ...rests }, { ...dip, ...rests }, track, { ...flat, ...rests }, halt, rides];
  const reading = readLegs([rides, ...Array.from({ length: 5 }, () => lap).flat()]);
  expect(reading.question).toBeNull();
  expect(Math.abs(reading.movingS / (6 * 240) - 1)).toBeLessThan(0.05);
  expect(Math.abs(leftOutS(reading, 'lift') / (5 * 820) - 1)).toBeLessThan(0.05);
});
