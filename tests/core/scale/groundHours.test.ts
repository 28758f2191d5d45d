import { expect, test } from 'vitest';
import { seededRandom } from '../../../src/core/chance/seededRandom.js';
import type { Terrain } from '../../../src/core/ground/samples/reading.js';
import { groundOf, weighRide } from '../../../src/core/ledger/rideWeight.js';
import { hoursBy, noGround, withRide } from '../../../src/core/scale/groundHours.js';
import { hoursOfThousandths, seconds } from '../../../src/units.js';

const random = seededRandom('rides of any ground');

/** Invented rides: any classes, quality and witnesses, some with landings. */
const anyRide = () => {
  const classS = Array.from({ length: 16 }, () => (random() < 0.5 ? 0 : Math.round(900 * random())));
  const terrain: Terrain = {
    classS,
    quality: random() < 0.2 ? null : random(),
    witnessWeight: random() < 0.5 ? 0.5 : 1,
    witness: random() - 0.5,
    gradientChange: 0.02,
    noiseM: 0.1,
    ...(random() < 0.5 ? { landings: { count: 9, hangS: 20 * random(), longestS: 0.7 } } : {}),
  };
  const movingS = seconds(
    Math.max(
      60,
      classS.reduce((sum, s) => sum + s, 0),
    ),
  );
  return { start: null, terrain, movingS, subSport: 'mountain', indoor: false };
};

test('riding kept by severity gives the hours of its rides with any weights, within two thousandths', () => {
  for (let i = 0; i < 300; i++) {
    const rides = Array.from({ length: 1 + Math.floor(5 * random()) }, anyRide);
    const ground = rides.reduce(
      (sum, ride) =>
        withRide(sum, {
          parts: groundOf(ride, undefined),
          movingHours: ride.movingS / 3600,
          airHours: (ride.terrain.landings?.hangS ?? 0) / 3600,
        }),
      noGround(),
    );
    const smooth = 0.5 + 0.5 * random();
    const weights = { smooth, typical: 1, rough: 1 + 2 * random(), landing: 20 * random() };
    const hours = rides.reduce(
      (sum, ride) => sum + hoursOfThousandths(weighRide(ride, undefined, weights).groundMs),
      0,
    );
    expect(Math.abs(hoursBy(weights)(ground) / hours - 1)).toBeLessThan(0.002);
  }
});

test('riding keeps its hours, and none is none', () => {
  expect(hoursBy({ smooth: 1, typical: 1, rough: 1 })(noGround())).toBe(0);
  const far = withRide(noGround(), {
    parts: [
      { share: 0.25, severity: 0.01 },
      { share: 0.75, severity: 5 },
    ],
    movingHours: 4,
    airHours: 0,
  });
  expect(hoursBy({ smooth: 0.5, typical: 1, rough: 3 })(far)).toBeCloseTo(0.5 + 9, 10);
});
