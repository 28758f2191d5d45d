/** An invented team of twelve riders through its season: race weekends, swaps, a crash, a fork that retires, a late truth. */
import { dayBefore } from './season.js';

const BIKES = 12;
const SPARES = 4;
const FLEET = 't9';
export const SEASON_WEEKS = 22;
const two = (n: number): string => String(n).padStart(2, '0');
const numbers = (from: number, to: number): number[] =>
  Array.from({ length: to - from + 1 }, (_, i) => from + i);
const fork = (n: number): string => `F-9${two(n)}`;
const shock = (n: number): string => `S-9${two(n)}`;
const bike = (n: number): string => `b9${two(n)}`;

/** What somebody enters in the course of the season. */
export type TeamAct =
  | { readonly does: 'swap'; readonly units: readonly [string, string]; readonly evening: string }
  | { readonly does: 'stop'; readonly unit: string; readonly why: string }
  | { readonly does: 'gone'; readonly unit: string; readonly on: string };

/** Returns the team as an import file has it: bikes, units, riding by hand, services, its own intervals, races to come. */
export function teamSeasonOf(today: string) {
  const start = dayBefore(today, SEASON_WEEKS * 7);
  const weekends = numbers(1, SEASON_WEEKS - 1).map((week) => dayBefore(today, week * 7));
  const unit = (tag: string, unitKind: 'fork' | 'coil-shock') => ({
    tag,
    unitKind,
    model: unitKind === 'fork' ? 'Sample race fork D-203' : 'Sample coil C-230',
    serial: `INVENTED-${tag}`,
    history: 'new' as const,
    fleet: FLEET,
  });
  const raced = numbers(1, BIKES);
  return {
    fleets: [{ id: FLEET, name: 'Team Larkspur Ridge' }],
    bikes: raced.map((n) => ({
      id: bike(n),
      rider: null,
      fleet: FLEET,
      name: `Larkspur ${n}`,
      type: 'gravity' as const,
    })),
    units: [
      ...numbers(1, BIKES + SPARES).map((n) => unit(fork(n), 'fork')),
      ...numbers(1, BIKES + 2).map((n) => unit(shock(n), 'coil-shock')),
    ],
    fittings: raced.flatMap((n) => [
      { unit: fork(n), bike: bike(n), from: start, to: null },
      { unit: shock(n), bike: bike(n), from: start, to: null },
    ]),
    services: raced.flatMap((n) => [
      { unit: fork(n), serviceKind: 'lower-leg', on: dayBefore(today, 100 - n), by: 'here' as const },
      { unit: fork(n), serviceKind: 'lower-leg', on: dayBefore(today, 44 + n), by: 'here' as const },
    ]),
    intervals: [
      {
        unitKind: 'fork' as const,
        serviceKind: 'lower-leg',
        scope: { fleet: FLEET, model: null, unit: null },
        terrainHours: 20,
        months: 6,
        movingHoursCeiling: 30,
      },
    ],
    // A rider each with a pace of their own; every fourth weekend is a race, on rough ground.
    hours: weekends.flatMap((on, week) =>
      raced
        .filter((n) => (week + n) % 5 !== 0)
        .map((n) => ({
          bike: bike(n),
          on,
          minutes: 60 + 10 * ((n * 7 + week) % 9),
          ground: week % 4 === 0 ? ('rough' as const) : ('typical' as const),
        })),
    ),
    races: [
      {
        id: 'x9a',
        name: 'Larkspur Open',
        on: dayBefore(today, -11),
        bikes: raced.map(bike),
        practiceHours: 4,
        raceHours: 3,
      },
      {
        id: 'x9b',
        name: 'Ridge Finals',
        on: dayBefore(today, -32),
        bikes: raced.map(bike),
        practiceHours: 5,
        raceHours: 4,
      },
    ],
  };
}

/** Returns what is entered one after the other; the last is the swap of 10 weeks ago that somebody forgot. */
export const teamActsOf = (today: string): TeamAct[] => [
  { does: 'swap', units: [fork(3), fork(13)], evening: dayBefore(today, 84) },
  { does: 'swap', units: [fork(7), fork(8)], evening: dayBefore(today, 56) },
  { does: 'swap', units: [shock(5), shock(13)], evening: dayBefore(today, 42) },
  { does: 'swap', units: [fork(13), fork(14)], evening: dayBefore(today, 28) },
  { does: 'stop', unit: fork(10), why: 'hit a rock wall, crown to be seen' },
  { does: 'gone', unit: fork(13), on: dayBefore(today, 20) },
  { does: 'swap', units: [fork(11), fork(15)], evening: dayBefore(today, 70) },
];
