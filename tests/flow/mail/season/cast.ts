/** Who is in the invented workshop, with which bikes and units, and how each came. */
import { day } from '../../../../src/units.js';
import { withWorkshop } from '../../riderWorld.js';
import type { Known } from './pencil.js';

export const START = day('2026-04-01');
export const RIDERS = 20;
export const numbers = Array.from({ length: RIDERS }, (_, i) => i + 1);
export const REFUSED = 4;
export const NO_ADDRESS = 5;
export const UNCONFIRMED = 7;
export const STOPPED = 8;
export const RESTS = 9;
export const UNSUBSCRIBES = 10;
export const LATER = 11;
/** Who hardly rides: their months are up first. */
export const RARE = [13, 14];
export const CLOSED = [
  '2026-04-03',
  '2026-04-06',
  '2026-05-01',
  '2026-08-10',
  '2026-08-11',
  '2026-08-12',
  '2026-12-25',
];

/** The severity that each kind of bike is taken to ride on. */
const TYPES = [
  ['trail', 1],
  ['gravel', 0.8],
  ['gravity', 1.4],
  ['trail', 1],
] as const;
const factorOf = (n: number): number => (n % 5 === 0 ? 1.2 : 1);

function cameOf(tag: string): Known['came'] {
  const n = Number(tag.slice(2));
  if (tag[0] === 'A') return n % 6 === 0 ? 'unknown' : { hours: n, on: '2026-03-20' };
  return n === 13 ? { newOn: '2025-05-12' } : { hours: 25 + n, on: n === 14 ? '2025-05-05' : '2026-03-20' };
}
export const units = new Map<string, Known>(
  numbers.flatMap((n) =>
    ['F', 'A'].map((letter): [string, Known] => {
      const tag = `${letter}-${n}`;
      return [
        tag,
        { came: cameOf(tag), factor: letter === 'F' ? factorOf(n) : 1, severity: TYPES[n % 4]![1] },
      ];
    }),
  ),
);

const historyOf = ({ came }: Known): unknown => {
  if (came === 'unknown') return came;
  return 'newOn' in came ? 'new' : { terrainHours: came.hours, movingHours: came.hours, asOf: came.on };
};

export const document = {
  ...withWorkshop({ closedDays: CLOSED }),
  riders: numbers.map((n) => ({
    id: `r${n}`,
    name: `Rider ${n}`,
    email: n === NO_ADDRESS ? null : `r${n}@example.org`,
    phone: `+000 555 01${n}`,
    addressConfirmed: n !== UNCONFIRMED,
  })),
  bikes: numbers.map((n) => ({
    id: `b${n}`,
    rider: `r${n}`,
    name: `Bike number ${n}`,
    type: TYPES[n % 4]![0],
  })),
  units: [...units].map(([tag, known]) => ({
    ...{ tag, unitKind: tag[0] === 'F' ? 'fork' : 'air-shock', factor: known.factor },
    history: historyOf(known),
  })),
  fittings: [...units].map(([tag, { came }]) => ({
    unit: tag,
    bike: `b${tag.slice(2)}`,
    from: typeof came === 'object' && 'newOn' in came ? came.newOn : '2025-01-01',
  })),
};
