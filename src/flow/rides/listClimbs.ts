import { lengthOf } from '../../core/ground/samples/intervals.js';
import type { Climb } from '../../core/ground/samples/reading.js';
import { climbsRidden, wasHelped, wordOfLikeDay } from '../../core/rides/climbWord.js';
import { joinRecordings, moved, type Recorded, recordedOf } from '../../core/rides/joinRecordings.js';
import type { ClimbsSaid, Part } from '../../core/rides/ride.js';
import type { RideRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';
import { type Instant, instant, type Seconds, seconds, secondsIn, secondsOfMs } from '../../units.js';
import { refuse } from '../refuse.js';
import { getBike } from '../unitLedger.js';
import { listParts } from './bikeKnowledge.js';

/** A stretch upward of a ride, as a person is asked about it. Units: metres, beats a minute. */
export interface ClimbRow {
  /** Counted from one, in order of time. */
  readonly number: number;
  readonly at: Instant;
  readonly seconds: number;
  readonly upM: number;
  /** What of it counts if it was ridden. */
  readonly movingS: Seconds;
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
  /** What counts whichever of them were ridden. */
  readonly besideS: Seconds;
}

/** What was said of a like day of the same rider, as it would be said of this one. */
export interface LikeDay {
  readonly at: Instant;
  /** By number. */
  readonly ridden: readonly number[];
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
      movingS: secondsOfMs(lengthOf(climb.moving)),
      heartBpm: climb.heartBpm,
      isRidden: ridden[i]!,
      chance: Number((1 - (told.motor ? climb.motorChance : climb.chance)).toFixed(3)),
    }),
  );
  const { heights = { everyS: 1, eleM: [] } } = told.one.part.reading;
  const { countedS } = climbSums({ climbs, besideS: seconds(0) });
  const besideS = seconds(Math.max(0, ride.movingS - countedS));
  return { startAt: instant(told.one.startMs), heights, climbs, besideS };
}

/** Returns what was said of a ride's climbs; null where nothing was. */
export async function findClimbsSaid(tx: Tx, ride: RideRow): Promise<ClimbsAsked | null> {
  const parts = await listParts(tx, ride.readingIds);
  if (!parts.some(({ answer }) => answer.climbs !== undefined)) return null;
  return listClimbs(ride, parts, ride.bikeId === null ? undefined : await getBike(tx, ride.bikeId));
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

/** Returns what of a ride counts, and what of its ways up does not. */
export function climbSums({ climbs, besideS }: Pick<ClimbsAsked, 'climbs' | 'besideS'>): {
  readonly countedS: Seconds;
  readonly leftS: Seconds;
} {
  const sum = (rows: readonly ClimbRow[]): number => rows.reduce((all, { movingS }) => all + movingS, 0);
  return {
    countedS: seconds(besideS + sum(climbs.filter(({ isRidden }) => isRidden))),
    leftS: seconds(sum(climbs.filter(({ isRidden }) => !isRidden))),
  };
}

/** So many of a rider's latest rides are looked at for a like day. */
const LATEST = 100;

/** Returns what was last said of a like day of this ride's rider; null where nothing was. */
export async function findLikeDay(
  tx: Tx,
  ride: RideRow,
  parts: readonly Part[],
  bike?: { readonly motor?: boolean },
): Promise<LikeDay | null> {
  const told = toldBy(ride, parts, bike);
  if (told === null || ride.riderId === null) return null;
  const rides = await tx.rides.listLatestOfRider(ride.riderId, LATEST);
  const answers = await tx.facts.listMany(
    'answer',
    rides.flatMap(({ readingIds }) => readingIds),
  );
  const said = new Set(
    answers.filter(({ body }) => body.climbs !== undefined).map(({ body }) => body.readingId),
  );
  for (const other of rides) {
    if (other.id === ride.id || !other.readingIds.some((id) => said.has(id))) continue;
    const their = toldBy(other, await listParts(tx, other.readingIds), bike);
    const word = their?.one.part.answer.climbs;
    if (their === null || word === undefined) continue;
    const words = wordOfLikeDay(told.climbs, { climbs: their.climbs, said: word });
    if (words === null) continue;
    const ridden = climbsRidden(told.one.part, told.motor).map((is, i) => words[i] ?? is);
    return {
      at: instant(their.one.startMs),
      ridden: ridden.flatMap((is, i) => (is ? [i + 1] : [])),
    };
  }
  return null;
}
