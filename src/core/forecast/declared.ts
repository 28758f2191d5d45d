/** Riding that nobody records, as its rider told it: so many hours a week, spread evenly over the days. */
import {
  type Day,
  instant,
  type Seconds,
  seconds,
  secondsOfHours,
  type Thousandths,
  thousandths,
} from '../../units.js';
import { addDays, startOfDay } from '../days/calendar.js';
import { dayNumber } from '../days/dayNumber.js';
import type { DeclaredFact } from '../ledger/facts.js';
import type { Bike, CountedRide, Weights } from '../ledger/ledger.js';
import { weighRide } from '../ledger/rideWeight.js';
import { GROUND_SEVERITY } from '../ledger/weight.js';
import type { Ground } from '../tokens.js';

/** More hours a week than anybody rides are a slip of the hand. */
export const MOST_HOURS_A_WEEK = 60;
export const ALL_MONTHS: readonly number[] = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12];

/** What a rider said of a bike. */
export type Declared = Omit<DeclaredFact, 'saidOn'>;

/** On which days a bike's files tell of its riding: from its first ride on, until the last day of a lapsed hand-over. */
export interface FilesTell {
  readonly from: Day | null;
  /** Null while files are handed over. */
  readonly upTo: Day | null;
}

/** Returns what holds on a day: of several words the one that begins last, and of those the last said. */
export const declaredOn = (said: readonly Declared[], on: Day): Declared | null =>
  said.reduce<Declared | null>(
    (best, one) =>
      one.from <= on && (one.to === null || on < one.to) && (best === null || one.from >= best.from)
        ? one
        : best,
    null,
  );

const isRidden = ({ months }: Declared, on: Day): boolean => months.includes(Number(on.slice(5, 7)));

const isTold = ({ from, upTo }: FilesTell, on: Day): boolean =>
  from !== null && from <= on && (upTo === null || on <= upTo);

/** Returns a day's part, so that any seven days in a row come to the hours of a week, to the second. */
function secondsOn(hoursAWeek: number, on: Day): Seconds {
  const weekS = secondsOfHours(hoursAWeek);
  const upTo = (count: number): number => Math.round((weekS * count) / 7);
  const place = ((dayNumber(on) % 7) + 7) % 7;
  return seconds(upTo(place + 1) - upTo(place));
}

/** All that is known of what is declared of one bike. */
export interface DeclaredOf {
  readonly bike: Bike;
  /** In order of entry. */
  readonly said: readonly Declared[];
  readonly files: FilesTell;
  readonly weights: Weights;
  readonly zone: string;
}

/** Returns what is declared of a day; null where nothing is, the bike is ridden no longer, or files tell of it. */
export function holdsOn({ said, files }: Pick<DeclaredOf, 'said' | 'files'>, on: Day): Declared | null {
  const one = isTold(files, on) ? null : declaredOn(said, on);
  return one === null || one.hoursAWeek === 0 ? null : one;
}

/** Returns a ride for each of these days on which something is declared. Shape: days half open. */
function ridesOn(
  { bike, said, weights, zone }: DeclaredOf,
  from: Day,
  until: Day,
  ofDay: (on: Day) => Declared | null,
): CountedRide[] {
  const weighed = new Map<string, Thousandths>();
  const groundMsOf = (movingS: Seconds, ground: Ground): Thousandths => {
    const key = `${movingS} ${ground}`;
    const known = weighed.get(key);
    if (known !== undefined) return known;
    const ride = {
      terrain: null,
      movingS,
      start: null,
      subSport: null,
      indoor: false,
      severity: GROUND_SEVERITY[ground],
    };
    const { groundMs } = weighRide(ride, bike, weights);
    weighed.set(key, groundMs);
    return groundMs;
  };
  const rides: CountedRide[] = [];
  if (said.length === 0) return rides;
  for (let on = from; on < until; on = addDays(on, 1)) {
    const one = ofDay(on);
    if (one === null || !isRidden(one, on)) continue;
    const movingS = secondsOn(one.hoursAWeek, on);
    rides.push({
      id: `${bike.id} ${on} declared`,
      bikeId: bike.id,
      start: instant(startOfDay(on, zone)),
      movingS,
      groundMs: thousandths(groundMsOf(movingS, one.ground)),
      isDeclared: true,
    });
  }
  return rides;
}

/**
 * Returns what is declared of a bike's days before today, a ride a day at its start. Where files tell of a day, only
 * they count, and a day without a ride is rest. Shape: from a day on.
 */
export function declaredRides(of: DeclaredOf, from: Day, today: Day): CountedRide[] {
  const first = of.said.map((one) => one.from).sort()[0];
  if (first === undefined) return [];
  return ridesOn(of, first > from ? first : from, today, (on) => holdsOn(of, on));
}

/** A forecast looks back so far at what is declared, as if it had held then already. */
const HABIT_DAYS = 364;

/**
 * Returns riding to foresee from where what is declared holds today: what would have been ridden in the year before it
 * was said. None where files ever told of the bike, for its own past says more.
 */
export function declaredHabit(of: DeclaredOf, today: Day): CountedRide[] {
  const now = holdsOn(of, today);
  if (now === null || of.files.from !== null) return [];
  const first = of.said.map((one) => one.from).sort()[0]!;
  return ridesOn(of, addDays(today, -HABIT_DAYS), first < today ? first : today, () => now);
}
