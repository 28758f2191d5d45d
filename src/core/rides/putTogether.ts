/** What a person's word that two rides are one, or that recordings are not, is kept as: so that it can be taken back. */
import { moved, recordedOf } from './joinRecordings.js';
import type { Part } from './ride.js';
import { relationOf } from './sameRide.js';

/** A word on one recording about others; see `Answer.joins`. */
export interface JoinWord {
  readonly readingId: string;
  readonly joins: Readonly<Record<string, number | false>>;
}

/** The recordings of a ride, and by how much the clock of each was moved. */
export interface TimedRide {
  readonly parts: readonly Part[];
  readonly shiftsMs: readonly number[];
}

/** Returns the words that make one ride of two, under the shift by which they are most alike; else as their clocks are. */
export function togetherWords(one: TimedRide, other: TimedRide): JoinWord[] {
  const byMs = shiftBetween(one, other);
  const wordsOf = (a: TimedRide, b: TimedRide, sign: number): JoinWord[] =>
    a.parts.map((part, i) => ({
      readingId: part.readingId,
      joins: Object.fromEntries(
        b.parts.map((about, k) => [about.readingId, sign * byMs + b.shiftsMs[k]! - a.shiftsMs[i]!]),
      ),
    }));
  return [...wordsOf(one, other, 1), ...wordsOf(other, one, -1)];
}

/** Returns the words that set recordings apart from others. */
export const apartWords = (some: readonly string[], others: readonly string[]): JoinWord[] =>
  [
    [some, others],
    [others, some],
  ].flatMap(([own = [], about = []]) =>
    own.map((readingId) => ({ readingId, joins: Object.fromEntries(about.map((id) => [id, false])) })),
  );

/**
 * Returns the words without which these recordings would be other rides once their marks of places are gone: which are one
 * as they stand, and which only their places keep apart.
 */
export function wordsForMarks(rides: readonly TimedRide[]): JoinWord[] {
  const words: JoinWord[] = [];
  for (const [i, ride] of rides.entries()) {
    words.push(...withinWords(ride));
    for (const other of rides.slice(i + 1))
      if (isKeptApartByPlace(ride, other))
        words.push(...apartWords(ride.parts.map(idOf), other.parts.map(idOf)));
  }
  return words;
}

const idOf = ({ readingId }: Part): string => readingId;

const withinWords = ({ parts, shiftsMs }: TimedRide): JoinWord[] =>
  parts.length < 2
    ? []
    : parts.map((part, i) => ({
        readingId: part.readingId,
        joins: Object.fromEntries(
          parts.flatMap((other, k) => (k === i ? [] : [[other.readingId, shiftsMs[k]! - shiftsMs[i]!]])),
        ),
      }));

function isKeptApartByPlace(one: TimedRide, other: TimedRide): boolean {
  const bare = ({ marks: _, ...part }: Part): Part => part;
  return one.parts.some((a) =>
    other.parts.some((b) => {
      const kind = relationOf(recordedOf(a), recordedOf(b)).kind;
      const without = relationOf(recordedOf(bare(a)), recordedOf(bare(b))).kind;
      return kind !== without && without !== 'apart';
    }),
  );
}

/** By how much the other ride's clock is moved to the first one's. */
function shiftBetween(one: TimedRide, other: TimedRide): number {
  const placed = ({ parts, shiftsMs }: TimedRide) =>
    parts.map((part, i) => moved(recordedOf(part), shiftsMs[i]!));
  const relations = placed(one).flatMap((a) => placed(other).map((b) => relationOf(a, b)));
  const likest = ['same', 'shifted', 'unclear'] as const;
  for (const kind of likest) {
    const found = relations.find((relation) => relation.kind === kind);
    if (found) return found.shiftMs;
  }
  return 0;
}
