/** Several recordings of one ride: what counts is the union of their moving time, on the ground of the best of them. */

import { MINUTE_MS, msOf, type Seconds, secondsOfMinutes, secondsOfMs } from '../../units.js';
import { lengthOf, type Stretch, unionOf, without } from '../ground/samples/intervals.js';
import { landingsTogether } from '../ground/samples/landings.js';
import type { PlaceMarks } from '../ground/samples/placeMarks.js';
import type { ReadingSaid, Terrain } from '../ground/samples/reading.js';
import type { Question } from '../tokens.js';
import { climbChange, wasHelped } from './climbWord.js';
import type { Part } from './ride.js';
import type { Outing } from './sameRide.js';

/** One recording in time: by its own clock, else by a person's word. */
export interface Recorded extends Outing {
  readonly part: Part;
  /** By how much its clock was moved. Units: milliseconds. */
  readonly shiftMs: number;
}

export function recordedOf(part: Part): Recorded {
  const { reading, answer } = part;
  const startMs = reading.start === null || hasBadClock(reading) ? (answer.on ?? 0) : reading.start;
  const lengthMs =
    reading.start === null || reading.end === null
      ? msOf(secondsOfMinutes(answer.minutes ?? 0))
      : reading.end - reading.start;
  const { movingS, sketch, recorder } = reading;
  const placed = { startMs: 0, endMs: lengthMs, movingS, sketch, zoneMs: recorder?.localOffsetMs ?? null };
  const climbed = (reading.climbs ?? []).flatMap((climb) => climb.moving);
  const moving = unionOf([...movingOfPart(part), ...(reading.doubtful?.moving ?? []), ...climbed]);
  const recorded = moved({ part, ...placed, moving, marks: part.marks, shiftMs: 0 }, startMs);
  // Marks stand under the recording's own clock, which a person may have set.
  const setByMs = reading.start === null ? 0 : startMs - reading.start;
  return { ...recorded, marks: part.marks && marksMoved(part.marks, setByMs), shiftMs: 0 };
}

/** Returns the recording as its clock would have it that goes so much before. Units: milliseconds. */
export function moved<T extends Recorded>(one: T, byMs: number): T {
  if (byMs === 0) return one;
  return {
    ...one,
    shiftMs: one.shiftMs + byMs,
    startMs: one.startMs + byMs,
    endMs: one.endMs + byMs,
    moving: one.moving.map(([from, to]): Stretch => [from + byMs, to + byMs]),
    marks: one.marks && marksMoved(one.marks, byMs),
  };
}

const marksMoved = (marks: PlaceMarks, byMs: number): PlaceMarks => ({
  ...marks,
  fromMinute: marks.fromMinute + Math.round(byMs / MINUTE_MS),
});

/** Returns how far a clock is to be trusted, 0 the most: set by a receiver, a recorder's own, with its zone, without. */
export function trustOf({ format, sketch, notes }: ReadingSaid): number {
  if (format === 'fit') return sketch === null ? 1 : 0;
  return notes.some(({ code }) => code === 'time-without-zone') ? 3 : 2;
}

export const hasBadClock = ({ question }: ReadingSaid): boolean =>
  question === 'clock-unset' || question === 'clock-future';

/** Whether it has a time that can be believed, so that it can be held against others. */
export const isTimed = ({ reading, answer }: Part): boolean =>
  reading.start === null
    ? answer.on !== undefined && answer.minutes !== undefined
    : !hasBadClock(reading) || answer.on !== undefined;

export interface Joined<T extends Recorded> {
  /** Those that count in the ride. */
  readonly members: readonly T[];
  /** The one whose ground stands for all. */
  readonly best: T;
  readonly movingS: Seconds;
  /** With the doubtful part where a person said that it was ridden. */
  readonly terrain: Terrain;
}

/** Returns what the recordings of one ride come to; `bike` is the one that it was on. Shape: at least one; of equals the first is the best. */
export function joinRecordings<T extends Recorded>(
  group: readonly T[],
  bike?: { readonly motor?: boolean },
): Joined<T> {
  const members = withoutCovered(group);
  const best = members.reduce((a, b) => (isBetterTerrain(b, a) ? b : a));
  const { movingS, terrain } = movingOf(members, best, bike);
  return { members, best, movingS, terrain: withLandings(terrain, members) };
}

/** Two recorders felt the same landings: of those that overlap the one that felt most of them tells. */
function withLandings({ landings: _, ...terrain }: Terrain, members: readonly Recorded[]): Terrain {
  const felt = ({ part: { reading } }: Recorded): readonly number[] => {
    const { count, hangS } = reading.terrain.landings ?? { count: -1, hangS: 0 };
    return [count, hangS];
  };
  const byMost = [...members].sort((a, b) => felt(b)[0]! - felt(a)[0]! || felt(b)[1]! - felt(a)[1]!);
  const taken: Recorded[] = [];
  for (const one of byMost)
    if (taken.every((other) => one.startMs >= other.endMs || one.endMs <= other.startMs)) taken.push(one);
  const landings = landingsTogether(taken.map(({ part }) => part.reading.terrain.landings));
  return landings === null ? terrain : { ...terrain, landings };
}

const COVERED = 0.9;

/** A damaged or sparse recording gives way to a sound one of the same stretch. */
const isPoor = ({ part: { reading } }: Recorded): boolean =>
  reading.damage !== null || reading.question === 'too-sparse';

function withoutCovered<T extends Recorded>(group: readonly T[]): readonly T[] {
  const sound = group.filter((one) => !isPoor(one));
  const isCovered = (one: Recorded): boolean =>
    sound.some((other) => {
      const shared = Math.min(one.endMs, other.endMs) - Math.max(one.startMs, other.startMs);
      if (shared < COVERED * (one.endMs - one.startMs)) return false;
      // What the sound one did not see was ridden all the same.
      const own = one.moving.map(([from, to]): Stretch => [from, Math.min(to, one.endMs)]);
      return lengthOf(own) - lengthOf(without(own, other.moving)) >= COVERED * lengthOf(own);
    });
  return group.filter((one) => !isPoor(one) || !isCovered(one));
}

/**
 * The better elevation; of equals one that names the kind of ride, then the longer. What is left is decided by what
 * they say and not by their order, so that the ride weighs the same whichever came first.
 */
function isBetterTerrain(a: Recorded, b: Recorded): boolean {
  const ranks = ({ part: { reading }, movingS }: Recorded) =>
    [reading.terrain.quality ?? -1, reading.subSport === null ? 0 : 1, movingS] as const;
  const [mine, theirs] = [ranks(a), ranks(b)];
  const differs = mine.findIndex((rank, i) => rank !== theirs[i]);
  if (differs >= 0) return mine[differs]! > theirs[differs]!;
  const text = ({ part: { reading } }: Recorded) => `${reading.subSport} ${JSON.stringify(reading.terrain)}`;
  return text(a) > text(b);
}

function movingOf(
  members: readonly Recorded[],
  best: Recorded,
  bike?: { readonly motor?: boolean },
): { movingS: Seconds; terrain: Terrain } {
  const at = (one: Recorded, stretches: readonly Stretch[]): Stretch[] =>
    stretches.map(([from, to]) => [one.startMs + from, one.startMs + to]);
  // Recordings without heights see no climbs: of what was not ridden the best one tells.
  const tells = (best.part.reading.climbs ? best : members.find(({ part }) => part.reading.climbs)) ?? best;
  const climbs = climbChange(
    tells.part,
    members.some(({ part }) => wasHelped(part, bike)),
  );
  const counted = unionOf(members.flatMap((one) => at(one, movingOfPart(one.part))));
  const moving = without(unionOf([...counted, ...at(tells, climbs.added)]), unionOf(at(tells, climbs.left)));
  const doubtful = unionOf(members.flatMap((one) => at(one, one.part.reading.doubtful?.moving ?? [])));
  const { doubtful: ofBest } = best.part.reading;
  const terrain =
    tells === best ? { ...best.part.reading.terrain, classS: climbs.classS } : best.part.reading.terrain;
  if (doubtful.length === 0) return { movingS: secondsOfMs(lengthOf(moving)), terrain };
  if (!saidOf(members, 'vehicle'))
    return { movingS: secondsOfMs(lengthOf(without(moving, doubtful))), terrain };
  const classS = terrain.classS.map((s, i) => s + (ofBest?.classS[i] ?? 0));
  return {
    movingS: secondsOfMs(lengthOf(unionOf([...moving, ...doubtful]))),
    terrain: { ...terrain, classS },
  };
}

function movingOfPart({ reading, answer }: Part): readonly Stretch[] {
  const isTold = reading.start === null || reading.question === 'too-sparse';
  if (!isTold || (reading.start !== null && answer.minutes === undefined)) return reading.moving;
  return answer.minutes === undefined ? [] : [[0, msOf(secondsOfMinutes(answer.minutes))]];
}

/** Returns what a person said to a question on any of the recordings. */
export const saidOf = (group: readonly Recorded[], question: Question): boolean | undefined =>
  group.map((one) => one.part.answer.ride?.[question]).find((said) => said !== undefined);
