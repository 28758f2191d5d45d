import { describe, expect, it } from 'vitest';
import { weighRide } from '../../src/core/ledger/rideWeight.js';
import {
  CLAMP,
  type Clamp,
  chargedMs,
  DEFAULT_WEIGHTS,
  GROUND_SEVERITY,
  type GroundTime,
} from '../../src/core/ledger/weight.js';
import type { Ground } from '../../src/core/tokens.js';
import { hoursOfThousandths, secondsOfHours } from '../../src/units.js';

function riding(ground: Ground, hours: number): GroundTime {
  const movingS = secondsOfHours(hours);
  const entered = {
    start: null,
    terrain: null,
    movingS,
    subSport: null,
    indoor: false,
    severity: GROUND_SEVERITY[ground],
  };
  return { movingS, groundMs: weighRide(entered, undefined, DEFAULT_WEIGHTS).groundMs };
}

/** Turbines know starts and fuels, riders know ground: only the summing is the same, so the bounds are off. */
const UNBOUNDED: Clamp = { low: 0, high: 1000 };
const factoredHours = (...parts: readonly (readonly [hours: number, factor: number])[]): number =>
  hoursOfThousandths(
    parts.reduce((sum, [hours, factor]) => sum + chargedMs(riding('typical', hours), factor, UNBOUNDED), 0),
  );

describe('a ride of 1.5 h on typical and 0.5 h on rough ground', () => {
  const terrainMs = chargedMs(riding('typical', 1.5), 1, CLAMP) + chargedMs(riding('rough', 0.5), 1, CLAMP);

  // Source: the ride analogue of a maintenance factor, factored hours over actual hours; from memory.
  it('is 2.5 factored hours, a factor of 1.25', () => {
    expect(hoursOfThousandths(terrainMs)).toBe(2.5);
    expect(terrainMs / (secondsOfHours(2) * 1000)).toBe(1.25);
  });

  it('reaches 50 hours after 40', () => {
    const rides = 50 / hoursOfThousandths(terrainMs);
    expect(rides * 2).toBe(40);
  });
});

// Source: a maker's guide to heavy-duty gas turbines, maintenance factor; from memory.
it('sums a turbine year as its maintenance factor does', () => {
  const factored = factoredHours([6000, 1], [1500, 1.5], [200, 6]);
  expect(factored).toBe(9450);
  expect(factored / 7700).toBeCloseTo(1.22727, 5);
  expect(24_000 / (factored / 7700)).toBeCloseTo(19_555.6, 1);
});

// Source: a gas-turbine handbook, page 184, equivalent operating hours: 10 h a start or rapid load, then f · w · (t + 4 · peak).
it('sums equivalent operating hours', () => {
  const equivalent = (fuel: number, water: number): number =>
    factoredHours([120, 10], [5, 10], [6000, fuel * water], [300, 4 * fuel * water]);
  expect(equivalent(1, 1)).toBe(8450);
  expect(equivalent(1.5, 1.145)).toBeCloseTo(13_616, 0);
});
