/** Invented hire forks with years of services behind them: what was found inside them is enough to learn from. */
import type { Ground } from '../src/core/tokens.js';
import type { ImportFile } from './importFile.js';
import { dayBefore } from './season.js';
import { seeded } from './seeded.js';

const HIRE = 't2';
const FORKS = 6;
const SERVICES = 7;
/** Days from one service to the next; the last one lies so many days back. */
const APART = 120;
const LAST_DAYS_AGO = 15;
const WEIGHT: Readonly<Record<Ground, number>> = { smooth: 0.5, typical: 1, rough: 2 };
const GROUNDS: readonly Ground[] = ['smooth', 'typical', 'rough'];
const MOST_MINUTES_A_DAY = 720;

interface Period {
  readonly servicedDaysAgo: number;
  readonly hours: number;
  readonly ground: Ground;
  readonly rings: 'pale' | 'honey' | 'dark';
}

/** Rings go dark by terrain hours, and no two at the same. */
const periodOf = (fork: number, index: number): Period => {
  const random = seeded(`hire fork ${fork} ${index}`);
  const ground = GROUNDS[Math.floor(random.between(0, GROUNDS.length))]!;
  const hours = Math.round(random.between(10, 24));
  const terrainHours = hours * WEIGHT[ground];
  const darkAt = random.between(15, 38);
  return {
    servicedDaysAgo: LAST_DAYS_AGO + APART * (SERVICES - 1 - index),
    hours,
    ground,
    rings: terrainHours >= darkAt ? 'dark' : terrainHours < 12 ? 'pale' : 'honey',
  };
};

export const hireForksOf = (
  today: string,
): Pick<ImportFile, 'fleets' | 'bikes' | 'units' | 'fittings' | 'services' | 'hours'> => {
  const forks = Array.from({ length: FORKS }, (_, i) => ({
    unit: `F-03${String(i + 1).padStart(2, '0')}`,
    bike: `b${31 + i}`,
    name: `Hire bike ${i + 4}`,
    periods: Array.from({ length: SERVICES }, (_, index) => periodOf(i, index)),
  }));
  return {
    fleets: [{ id: HIRE, name: 'Hire bikes' }],
    bikes: forks.map(({ bike, name }) => ({
      id: bike,
      rider: null,
      fleet: HIRE,
      name,
      type: 'trail' as const,
    })),
    units: forks.map(({ unit }) => ({
      tag: unit,
      unitKind: 'fork' as const,
      model: 'Sample hire fork H-130',
      serial: `INVENTED-${unit}`,
      warrantyEnd: null,
      factor: 1,
      history: 'new' as const,
    })),
    fittings: forks.map(({ unit, bike }) => ({
      unit,
      bike,
      from: dayBefore(today, LAST_DAYS_AGO + APART * SERVICES),
      to: null,
    })),
    services: forks.flatMap(({ unit, periods }) =>
      periods.map(({ servicedDaysAgo, rings }, i) => {
        const isFull = i % 2 === 0;
        return {
          unit,
          serviceKind: isFull ? 'full' : 'lower-leg',
          on: dayBefore(today, servicedDaysAgo),
          restarts: isFull ? ['full', 'damper', 'air-spring', 'lower-leg'] : ['lower-leg'],
          by: 'here',
          findings: { foamRings: rings, foamRingsNow: 'new' as const },
        };
      }),
    ),
    hours: forks.flatMap(({ bike, periods }) =>
      periods.flatMap(({ servicedDaysAgo, hours, ground }) => {
        const days = Math.ceil((hours * 60) / MOST_MINUTES_A_DAY);
        return Array.from({ length: days }, (_, day) => ({
          bike,
          on: dayBefore(today, servicedDaysAgo + 20 + 10 * day),
          minutes: (hours * 60) / days,
          ground,
        }));
      }),
    ),
  };
};
