/** What a unit's forecasts cost, beside the law of before, which drew paths for every unit and service kind. */
import { seededRandom } from '../../../src/core/chance/seededRandom.js';
import { addDays } from '../../../src/core/days/calendar.js';
import { forecastRiding, type RideHours } from '../../../src/core/forecast/forecast.js';
import { day, HOUR_MS } from '../../../src/units.js';
import { earlierPassages } from '../earlierLaw.js';
import type { Figure } from './figure.js';
import { timed } from './timing.js';

const TODAY = day('2026-10-28');
const BIKES = 40;
const RUNS = 5;
/** Of a fork's four service kinds and a shock's two, in hours. */
const UNITS = [
  [50, 100, 150, 200],
  [50, 200],
] as const;
/** A forecast costs at most so much of what it took before. */
const MOST = 0.3;

/** Three years of one or two rides in most weeks. */
const ridesOf = (bike: number): readonly RideHours[] => {
  const random = seededRandom(`rides of bike ${bike}`);
  return Array.from({ length: 150 * 2 }, (_, i) => i)
    .filter(() => random() < 0.45)
    .map((i) => {
      const movingS = Math.round(3600 * (0.5 + 3 * random()));
      return { day: addDays(TODAY, -Math.round(3.5 * i)), movingS, terrainMs: movingS * 1000 };
    });
};

/** Returns the time for the forecasts of many bikes' units under either law. */
export async function forecastFigures(): Promise<Figure[]> {
  const bikes = Array.from({ length: BIKES }, (_, bike) => ridesOf(bike));
  const ours = await timed(RUNS, () => {
    for (const [bike, rides] of bikes.entries()) {
      const seed = `bike ${bike}`;
      const known = { today: TODAY, knownUpTo: TODAY, filesBy: TODAY, hemisphere: 1, seed } as const;
      const riding = forecastRiding({ ...known, rides });
      for (const hours of UNITS.flat()) riding.reach({ terrainMs: hours * HOUR_MS, movingS: hours * 5400 });
    }
  });
  const other = await timed(RUNS, () => {
    for (const [bike, rides] of bikes.entries())
      for (const [unit, kinds] of UNITS.entries())
        for (const hours of kinds) {
          const left = { terrainMs: hours * HOUR_MS, movingS: hours * 5400 };
          earlierPassages(rides, TODAY, left, `bike ${bike} unit ${unit} of ${hours} h`);
        }
  });
  const units = BIKES * UNITS.length;
  return [
    {
      what: 'forecasts of a unit',
      ours: ours / units,
      against: 'the law of before',
      other: other / units,
      unit: 'ms',
      most: MOST,
      aim: MOST,
    },
  ];
}
