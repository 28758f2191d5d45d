/** Who rode what and when: the invented riders' season, told backwards from today. */
import { Temporal } from 'temporal-polyfill';
import { LANDING_WEIGHT } from '../src/core/ledger/weight.js';
import { type CourseName, expectedWeightOf, getCourse } from './courses.js';
import { type FitRideOptions, fitRide, type RadioSensor, SPORT, SUB_SPORT } from './fitRide.js';
import { gpxRide } from './gpxRide.js';
import { hangOf, jumpsOf } from './jumps.js';
import { type Ridden, rideOver } from './ridden.js';
import { seeded } from './seeded.js';

/** A file as a rider hands it over. */
export interface RideFile {
  /** Below the data directory, with `/`. */
  readonly path: string;
  bytes(): Uint8Array;
}

/** A ride that counts, with what it should come to. Units: hours. */
export interface PlannedRide extends RideFile {
  readonly bike: string;
  readonly daysAgo: number;
  readonly ridden: Ridden;
  readonly movingHours: number;
  readonly terrainHours: number;
}

interface BikeSeason {
  readonly rider: string;
  readonly bike: string;
  readonly lastDaysAgo: number;
  /** Days from one ride back to the one before, over and over. */
  readonly gaps: readonly number[];
  readonly rides: number;
  readonly courses: readonly CourseName[];
  readonly subSport: keyof typeof SUB_SPORT;
  readonly pace: number;
  readonly format: 'fit' | 'gpx';
  readonly sensors?: readonly RadioSensor[];
  /** The recorder writes down landings. */
  readonly feelsLandings?: true;
  /** How many of the latest rides lie in the rider's folder without the bike's. */
  readonly loose?: number;
}

const PIA_STRAP: RadioSensor = { kind: 'heart-strap', number: 20_611 };

const SEASONS: readonly BikeSeason[] = [
  {
    rider: 'r1',
    bike: 'b1',
    lastDaysAgo: 3,
    gaps: [7, 3],
    rides: 14,
    courses: ['two becks', 'evening trail'],
    subSport: 'mountain',
    pace: 1,
    format: 'fit',
    sensors: [{ kind: 'speed-sensor', number: 30_417 }, PIA_STRAP],
    loose: 2,
  },
  {
    rider: 'r1',
    bike: 'b2',
    lastDaysAgo: 5,
    gaps: [10],
    rides: 7,
    courses: ['long road', 'short road'],
    subSport: 'road',
    pace: 1,
    format: 'fit',
    sensors: [PIA_STRAP],
  },
  {
    rider: 'r2',
    bike: 'b3',
    lastDaysAgo: 2,
    gaps: [6, 7, 5],
    rides: 16,
    courses: ['gravel round'],
    subSport: 'gravel',
    pace: 0.97,
    format: 'gpx',
  },
  {
    rider: 'r3',
    bike: 'b4',
    lastDaysAgo: 2,
    gaps: [2, 3, 2],
    rides: 42,
    courses: ['two becks', 'evening trail', 'far ridge'],
    subSport: 'mountain',
    pace: 0.96,
    format: 'fit',
    feelsLandings: true,
  },
  {
    rider: 'r3',
    bike: 'b5',
    lastDaysAgo: 6,
    gaps: [21],
    rides: 4,
    courses: ['park day'],
    subSport: 'downhill',
    pace: 1,
    format: 'fit',
    feelsLandings: true,
    sensors: [{ kind: 'speed-sensor', number: 30_958 }],
  },
  {
    rider: 'r4',
    bike: 'b6',
    lastDaysAgo: 3,
    gaps: [5, 7],
    rides: 16,
    courses: ['quarry steps'],
    subSport: 'mountain',
    pace: 1.04,
    format: 'fit',
  },
  {
    rider: 'r5',
    bike: 'b7',
    lastDaysAgo: 25,
    gaps: [4, 6],
    rides: 10,
    courses: ['evening trail', 'two becks'],
    subSport: 'mountain',
    pace: 0.93,
    format: 'gpx',
    loose: 3,
  },
  {
    rider: 'r6',
    bike: 'b8',
    lastDaysAgo: 4,
    gaps: [8, 6],
    rides: 9,
    courses: ['far ridge', 'two becks'],
    subSport: 'mountain',
    pace: 0.98,
    format: 'fit',
  },
];

export const dayBefore = (today: string, daysAgo: number): string =>
  Temporal.PlainDate.from(today).subtract({ days: daysAgo }).toString();

/** Returns a moment on a day: on days off in the morning, else after work. Units: milliseconds since 1970 UTC. */
export const startOn = (today: string, daysAgo: number, seed: string): number => {
  const date = Temporal.PlainDate.from(today).subtract({ days: daysAgo });
  const hour = date.dayOfWeek > 5 ? 9 : 17;
  const second = Math.floor(seeded(`start ${seed}`).between(0, 3000));
  return Date.UTC(date.year, date.month - 1, date.day, hour, 0, second);
};

/** Returns a file name as recorders give them. */
export const nameOf = (startMs: number): string =>
  new Date(startMs).toISOString().slice(0, 16).replace('T', '-').replace(':', '');

export const fitOptions = (
  subSport: keyof typeof SUB_SPORT,
  sensors: readonly RadioSensor[] = [],
): FitRideOptions => ({
  sport: SPORT.cycling,
  subSport: SUB_SPORT[subSport],
  recorderSerial: 990_001,
  sensors,
});

const rideOf = (season: BikeSeason, today: string, index: number, daysAgo: number): PlannedRide => {
  const seed = `${season.bike} ${index}`;
  const course = season.courses[index % season.courses.length]!;
  const startMs = startOn(today, daysAgo, seed);
  const ridden = rideOver({
    course: getCourse(course),
    seed,
    startMs,
    pace: season.pace * seeded(`form ${seed}`).between(0.96, 1.04),
    sampling: index % 5 === 0 ? 'second' : 'smart',
    halts: 2 + (index % 3),
    // A receiver that jitters every second at rest would add to the way of a track.
    stopsRecorder: index % 4 === 3 || (season.format === 'gpx' && index % 5 === 0),
  });
  const folder = index < (season.loose ?? 0) ? season.rider : `${season.rider}/${season.bike}`;
  const movingHours = ridden.movingS / 3600;
  const jumps = season.feelsLandings ? jumpsOf(ridden, getCourse(course), seed) : undefined;
  const landedHours = (LANDING_WEIGHT * hangOf(jumps ?? [])) / 3600;
  return {
    path: `inbox/${folder}/${nameOf(startMs)}.${season.format}`,
    bytes: () =>
      season.format === 'fit'
        ? fitRide(ridden, { ...fitOptions(season.subSport, season.sensors), ...(jumps && { jumps }) })
        : gpxRide(ridden, { type: 'cycling' }),
    bike: season.bike,
    daysAgo,
    ridden,
    movingHours,
    terrainHours: movingHours * expectedWeightOf(course) + landedHours,
  };
};

/** Returns every ride of the season that counts, each bike's latest first. */
export const seasonOf = (today: string): PlannedRide[] =>
  SEASONS.flatMap((season) => {
    let daysAgo = season.lastDaysAgo;
    return Array.from({ length: season.rides }, (_, index) => {
      const ride = rideOf(season, today, index, daysAgo);
      daysAgo += season.gaps[index % season.gaps.length]!;
      return ride;
    });
  });

/** Tuesday to Saturday, as the invented workshop opens. */
const isOpen = (day: string): boolean => [2, 3, 4, 5, 6].includes(Temporal.PlainDate.from(day).dayOfWeek);

/**
 * Returns the day on which a unit was serviced for its bike's rides since to come nearest to so many hours: between two
 * rides, or on the later one's day, and where it can on an open day.
 */
export const serviceDayFor = (
  today: string,
  rides: readonly PlannedRide[],
  hoursOf: (ride: PlannedRide) => number,
  hours: number,
): string => {
  let sum = 0;
  for (const [index, ride] of rides.entries()) {
    const more = sum + hoursOf(ride);
    if (index > 0 && more - hours > hours - sum) {
      const first = rides[index - 1]!.daysAgo;
      const days = Array.from({ length: ride.daysAgo - first }, (_, i) => dayBefore(today, first + i));
      return days.find(isOpen) ?? dayBefore(today, first);
    }
    sum = more;
  }
  throw new RangeError(`the season has ${sum.toFixed(1)} hours, not ${hours}`);
};
