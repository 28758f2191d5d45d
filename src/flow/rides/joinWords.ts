/** Words by which recordings are one ride or not: said of a doubt, of a recording, or of another ride. */
import { apartWords, type JoinWord, type TimedRide, togetherWords } from '../../core/rides/putTogether.js';
import { LARGEST_SHIFT_MS } from '../../core/rides/rhythm.js';
import type { Part } from '../../core/rides/ride.js';
import type { RideRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { refuse } from '../refuse.js';
import { listParts } from './bikeKnowledge.js';
import type { RiddenClimbs } from './listClimbs.js';

/** A person's word on a ride; at least one of them. */
export interface TrayAnswer {
  readonly bikeId?: string;
  readonly riderId?: string;
  readonly ride?: boolean;
  readonly on?: Instant;
  readonly minutes?: number;
  /** Which of its climbs were ridden. */
  readonly ridden?: RiddenClimbs;
  /** A file of the ride, by its name or its reading, that is a ride of its own. */
  readonly apart?: string;
  /** Another ride that is the same. */
  readonly with?: string;
}

/** Returns the words on recordings that an answer comes to; null where it says something else of the ride. */
export async function joinWordsOf(tx: Tx, ride: RideRow, answer: TrayAnswer): Promise<JoinWord[] | null> {
  if (answer.apart !== undefined) return setApart(tx, ride, answer.apart);
  if (answer.with !== undefined) {
    const other = await tx.rides.find(answer.with);
    if (other?.source !== 'recorded' || other.id === ride.id) refuse('no-other-ride');
    return together(tx, ride, [other!]);
  }
  if (answer.ride === undefined) return null;
  return ofDoubt(tx, ride, answer.ride);
}

async function setApart(tx: Tx, ride: RideRow, file: string): Promise<JoinWord[]> {
  const rows = await tx.readings.getMany(ride.readingIds);
  const arrivals = await tx.files.listArrivals([...new Set(rows.map((row) => row.fileId))]);
  const isNamed = (name: string): boolean => name === file || name.endsWith(`/${file}`);
  const fileIds = new Set(arrivals.filter(({ name }) => isNamed(name)).map((one) => one.fileId));
  const some = rows.filter((row) => row.id === file || fileIds.has(row.fileId)).map((row) => row.id);
  const rest = ride.readingIds.filter((id) => !some.includes(id));
  if (some.length === 0 || rest.length === 0) refuse('no-such-recording');
  return apartWords(some, rest);
}

/** A yes or no to whether it is a ride of its own, while that is asked, and afterwards the other way round. */
async function ofDoubt(tx: Tx, ride: RideRow, isOwn: boolean): Promise<JoinWord[] | null> {
  const isAsked = ride.question?.startsWith('same-ride') || (ride.question === 'two-places' && isOwn);
  if (isAsked) {
    const other = await tx.rides.find(ride.otherRideId!);
    if (!other) return null;
    return isOwn ? apartWords(ride.readingIds, other.readingIds) : together(tx, ride, [other]);
  }
  if (ride.question !== null || ride.dismissed) return null;
  const parts = await listParts(tx, ride.readingIds);
  return isOwn ? parted(parts) : rejoined(tx, ride, parts);
}

/** Of recordings that a person's word made one ride, one from the rest. */
function parted(parts: readonly Part[]): JoinWord[] | null {
  const isIn = new Set(parts.map((part) => part.readingId));
  const saidOne = (part: Part): string[] =>
    Object.entries(part.answer.joins ?? {})
      .filter(([id, said]) => said !== false && isIn.has(id))
      .map(([id]) => id);
  const one = parts.find((part) => saidOne(part).length > 0);
  if (!one) return null;
  const others = saidOne(one);
  return apartWords(
    [...isIn].filter((id) => !others.includes(id)),
    others,
  );
}

/** With the rides that a person set apart from this one. */
async function rejoined(tx: Tx, ride: RideRow, parts: readonly Part[]): Promise<JoinWord[] | null> {
  const apart = parts.flatMap(({ answer }) =>
    Object.entries(answer.joins ?? {})
      .filter(([, said]) => said === false)
      .map(([id]) => id),
  );
  const others = (await tx.rides.listOfReadings([...new Set(apart)])).filter((one) => one.id !== ride.id);
  return others.length === 0 ? null : together(tx, ride, others);
}

async function together(tx: Tx, ride: RideRow, others: readonly RideRow[]): Promise<JoinWord[]> {
  const one = await timedRide(tx, ride);
  const words: JoinWord[] = [];
  for (const other of others) {
    const isNear =
      ride.start !== null && other.start !== null && Math.abs(ride.start - other.start) <= LARGEST_SHIFT_MS;
    if (!isNear) refuse('too-far-apart');
    words.push(...togetherWords(one, await timedRide(tx, other)));
  }
  return words;
}

async function timedRide(tx: Tx, { readingIds, shiftsMs }: RideRow): Promise<TimedRide> {
  const parts = await listParts(tx, readingIds);
  return { parts: readingIds.map((id) => parts.find((part) => part.readingId === id)!), shiftsMs };
}
