import type { Climb } from '../../core/ground/samples/reading.js';
import { climbsRidden, wasHelped } from '../../core/rides/climbWord.js';
import { joinRecordings, moved, type Recorded, recordedOf } from '../../core/rides/joinRecordings.js';
import type { ClimbsSaid, Part } from '../../core/rides/ride.js';
import type { RideRow } from '../../ports/rides.js';
import { type Instant, instant, secondsIn } from '../../units.js';
import { refuse } from '../refuse.js';

/** A stretch upward of a ride, as a person is asked about it. Units: metres, beats a minute. */
export interface ClimbRow {
  /** Counted from one, in order of time. */
  readonly number: number;
  readonly at: Instant;
  readonly seconds: number;
  readonly upM: number;
  readonly heartBpm: number | null;
  /** As it counts now: by a person's word, else as is likely. */
  readonly isRidden: boolean;
  /** That it was ridden, 0 to 1. */
  readonly chance: number;
}

/** A ride's climbs with the heights of its day. Units: seconds, metres. */
export interface ClimbsAsked {
  readonly startAt: Instant;
  readonly heights: { readonly everyS: number; readonly eleM: readonly (number | null)[] };
  readonly climbs: readonly ClimbRow[];
}

/** Which climbs were ridden: all, none, or these by number. */
export type RiddenClimbs = 'all' | 'none' | readonly number[];

interface TellsClimbs {
  readonly one: Recorded;
  readonly climbs: readonly Climb[];
  readonly motor: boolean;
}

/** The recording that tells of a ride's climbs: the one whose ground stands for all, else the first that saw any. */
function toldBy(
  ride: RideRow,
  parts: readonly Part[],
  bike?: { readonly motor?: boolean },
): TellsClimbs | null {
  const group = ride.readingIds.map((id, i) =>
    moved(recordedOf(parts.find((part) => part.readingId === id)!), ride.shiftsMs[i] ?? 0),
  );
  const { members, best } = joinRecordings(group, bike);
  const one = [best, ...members].find(({ part }) => part.reading.climbs !== undefined);
  if (one === undefined) return null;
  const motor = members.some(({ part }) => wasHelped(part, bike));
  return { one, climbs: one.part.reading.climbs!, motor };
}

/** Returns a ride's climbs in order of time; null where all upward surely was ridden. */
export function listClimbs(
  ride: RideRow,
  parts: readonly Part[],
  bike?: { readonly motor?: boolean },
): ClimbsAsked | null {
  const told = toldBy(ride, parts, bike);
  if (told === null) return null;
  const ridden = climbsRidden(told.one.part, told.motor);
  const climbs = told.climbs.map(
    (climb, i): ClimbRow => ({
      number: i + 1,
      at: instant(told.one.startMs + climb.fromMs),
      seconds: Math.round(secondsIn(climb.toMs - climb.fromMs)),
      upM: climb.upM,
      heartBpm: climb.heartBpm,
      isRidden: ridden[i]!,
      chance: Number((1 - (told.motor ? climb.motorChance : climb.chance)).toFixed(3)),
    }),
  );
  const { heights = { everyS: 1, eleM: [] } } = told.one.part.reading;
  return { startAt: instant(told.one.startMs), heights, climbs };
}

/** Returns the word on each recording that says which climbs were ridden. Errors: `refused` for a number that is not there. */
export function climbWords(
  ride: RideRow,
  parts: readonly Part[],
  which: RiddenClimbs,
): ReadonlyMap<string, ClimbsSaid> {
  const told = toldBy(ride, parts);
  if (told === null) refuse('no-climbs');
  const { one, climbs } = told!;
  const numbers = typeof which === 'string' ? [] : which;
  if (numbers.some((number) => !(number >= 1 && number <= climbs.length)))
    refuse('no-such-climb', { count: climbs.length });
  const isRidden = (i: number): boolean => which === 'all' || (which !== 'none' && numbers.includes(i + 1));
  const stretches = (ridden: boolean, byMs: number): (readonly [number, number])[] =>
    climbs.flatMap(({ fromMs, toMs }, i) =>
      isRidden(i) === ridden ? [[fromMs + byMs, toMs + byMs] as const] : [],
    );
  return new Map(
    parts.map((part) => {
      const at = ride.readingIds.indexOf(part.readingId);
      const byMs = one.startMs - moved(recordedOf(part), ride.shiftsMs[at] ?? 0).startMs;
      return [part.readingId, { ridden: stretches(true, byMs), notRidden: stretches(false, byMs) }];
    }),
  );
}
