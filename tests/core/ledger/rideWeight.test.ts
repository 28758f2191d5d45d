import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Terrain } from '../../../src/core/ground/samples/reading.js';
import type { Bike } from '../../../src/core/ledger/ledger.js';
import { weighRide } from '../../../src/core/ledger/rideWeight.js';
import {
  CLAMP,
  DEFAULT_WEIGHTS,
  FLEET_CLAMP,
  GROUND_SEVERITY,
  handTerrainOf,
  priorOf,
  terrainOf,
} from '../../../src/core/ledger/weight.js';
import { BIKE_TYPES, GROUNDS } from '../../../src/core/tokens.js';
import { seconds } from '../../../src/units.js';

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
        const ride = { terrain, movingS: seconds(s), subSport: null, indoor: false };
        const { severity, terrainMs } = terrainOf(terrain, seconds(s), {
          prior: priorOf(null, type),
          weights,
          clamp: inFleet ? FLEET_CLAMP : CLAMP,
        });
        expect(weighRide(ride, on, weights)).toEqual({ severity, terrainMs });
      },
    ),
  );
});

test('hours entered by hand weigh by the ground that was named, whatever the bike', () => {
  for (const ground of GROUNDS) {
    const ride = {
      terrain: null,
      movingS: seconds(1800),
      subSport: null,
      indoor: false,
      severity: GROUND_SEVERITY[ground],
    };
    const { terrainMs } = handTerrainOf(ground, seconds(1800), { weights });
    expect(weighRide(ride, bike({ type: 'road' }), weights)).toEqual({
      terrainMs,
      severity: GROUND_SEVERITY[ground],
    });
  }
});

test('rides indoors weigh nothing, and a ride with no bike yet weighs as a trail bike’s', () => {
  const ride = { terrain, movingS: seconds(1800), subSport: null, indoor: false };
  expect(weighRide({ ...ride, indoor: true }, bike(), DEFAULT_WEIGHTS).terrainMs).toBe(0);
  expect(weighRide(ride, undefined, DEFAULT_WEIGHTS)).toEqual(weighRide(ride, bike(), DEFAULT_WEIGHTS));
});
