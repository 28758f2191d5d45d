import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Terrain } from '../../../src/core/ground/samples/reading.js';
import { chargedRides } from '../../../src/core/ledger/hours.js';
import type { Bike } from '../../../src/core/ledger/ledger.js';
import { weighRide } from '../../../src/core/ledger/rideWeight.js';
import {
  CLAMP,
  clampOn,
  DEFAULT_WEIGHTS,
  FLEET_CLAMP,
  GROUND_SEVERITY,
  priorOf,
  terrainOf,
} from '../../../src/core/ledger/weight.js';
import { BIKE_TYPES, GROUNDS } from '../../../src/core/tokens.js';
import { instant, seconds } from '../../../src/units.js';

const bike = (rest: Partial<Bike> = {}): Bike => ({
  id: 'b',
  handle: 'b',
  riderId: null,
  fleetId: null,
  name: 'b',
  type: 'trail',
  ...rest,
});
const terrain: Terrain = {
  classS: [0, 0, 0, 0, 0, 0, 0, 300, 900, 600, 0, 0, 0, 0, 0, 0],
  quality: 0.7,
  witnessWeight: 0,
  witness: 0,
  gradientChange: null,
  noiseM: null,
};
const weights = { smooth: 0.4, typical: 1.1, rough: 3 };

test('a recorded ride weighs what its ground does on its bike', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...BIKE_TYPES),
      fc.boolean(),
      fc.integer({ min: 1, max: 20_000 }),
      (type, inFleet, s) => {
        const on = bike({ type, fleetId: inFleet ? 't' : null });
        const ride = { start: instant(0), terrain, movingS: seconds(s), subSport: null, indoor: false };
        const { severity, groundMs, terrainMs } = terrainOf(terrain, seconds(s), {
          prior: priorOf(null, type),
          weights,
          clamp: inFleet ? FLEET_CLAMP : CLAMP,
        });
        expect(weighRide(ride, on, weights)).toEqual({ severity, groundMs, terrainMs });
      },
    ),
  );
});

test('hours entered by hand weigh by the ground that was named, whatever the bike', () => {
  for (const ground of GROUNDS) {
    const ride = {
      start: instant(0),
      terrain: null,
      movingS: seconds(1800),
      subSport: null,
      indoor: false,
      severity: GROUND_SEVERITY[ground],
    };
    const groundMs = Math.round(1_800_000 * weights[ground]);
    expect(weighRide(ride, bike({ type: 'road' }), weights)).toEqual({
      groundMs,
      // Within the bounds, as it is shown.
      terrainMs: Math.max(900_000, groundMs),
      severity: GROUND_SEVERITY[ground],
    });
  }
});

test('rides indoors weigh nothing, and a ride with no bike yet weighs as a trail bike’s', () => {
  const ride = { start: null, terrain, movingS: seconds(1800), subSport: null, indoor: false };
  expect(weighRide({ ...ride, indoor: true }, bike(), DEFAULT_WEIGHTS)).toMatchObject({
    groundMs: 0,
    terrainMs: 0,
  });
  expect(weighRide(ride, undefined, DEFAULT_WEIGHTS)).toEqual(weighRide(ride, bike(), DEFAULT_WEIGHTS));
});

/** What an hour on a named ground charges a unit with, by the whole way from the ride to the unit. */
function hourOf(ground: keyof typeof weights, of: typeof weights, factor: number, isFleet: boolean): number {
  const on = bike({ fleetId: isFleet ? 't' : null });
  const movingS = seconds(3600);
  const severity = GROUND_SEVERITY[ground];
  const start = instant(1000);
  const { groundMs } = weighRide(
    { start, terrain: null, movingS, subSport: null, indoor: false, severity },
    on,
    of,
  );
  const [charged] = chargedRides({
    fittings: [{ id: 'f', unitId: 'u', bikeId: 'b', from: instant(0), to: null }],
    rides: [{ id: 'r', bikeId: 'b', start, movingS, groundMs }],
    factor,
    clampOf: (_id, at) => clampOn(on, at),
    now: start,
  });
  return charged!.terrainMs / 3_600_000;
}

test('a unit is charged the product, held to its bounds once at its end', () => {
  const wide = { smooth: 0.25, typical: 1, rough: 4 };
  expect(hourOf('rough', wide, 0.6, true)).toBeCloseTo(2.4, 9);
  expect(hourOf('rough', wide, 0.6, false)).toBeCloseTo(2.4, 9);
  expect(hourOf('rough', wide, 1, false)).toBe(3);
  expect(hourOf('rough', wide, 1, true)).toBe(4);
  expect(hourOf('smooth', wide, 1.8, false)).toBe(0.5);
  expect(hourOf('smooth', wide, 2.4, false)).toBeCloseTo(0.6, 9);
  const number = fc.double({ min: 0.1, max: 4, noNaN: true });
  fc.assert(
    fc.property(
      fc.constantFrom(...GROUNDS),
      fc.tuple(number, number, number),
      number,
      fc.boolean(),
      (ground, [smooth, typical, rough], factor, isFleet) => {
        const set = { smooth, typical, rough };
        const whole = Math.min(isFleet ? 4 : 3, Math.max(0.5, set[ground] * factor));
        expect(hourOf(ground, set, factor, isFleet)).toBeCloseTo(whole, 5);
      },
    ),
  );
});
