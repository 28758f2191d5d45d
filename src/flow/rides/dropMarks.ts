/**
 * Marks of places go with the originals. With a rider who is forgotten goes also which recorder it was. What they decided is
 * kept as words first.
 */
import { wordsForMarks } from '../../core/rides/putTogether.js';
import { namedBikeOf, recorderOf } from '../../core/rides/settle.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { listParts } from './bikeKnowledge.js';
import { listNear } from './settleReadings.js';

const BY_ITSELF = 'stanchion';

/** Removes where these readings were; no ride changes by it. */
export async function dropPlaces(tx: Tx, readingIds: readonly string[], at: Instant): Promise<void> {
  const marks = await tx.readings.listMarks(readingIds);
  const marked = [...marks].filter(([, { cells }]) => cells !== '').map(([id]) => id);
  if (marked.length === 0) return;
  await keepJoins(tx, marked, at);
  await tx.readings.removePlaces(marked);
}

/** Removes all marks of these readings: no ride becomes another's by it, but they are to be settled again. */
export async function dropMarks(tx: Tx, readingIds: readonly string[], at: Instant): Promise<void> {
  const marked = [...(await tx.readings.listMarks(readingIds)).keys()];
  if (marked.length === 0) return;
  await keepJoins(tx, marked, at);
  await keepRiders(tx, marked, at);
  await tx.readings.removeMarks(marked);
}

/** Whose a recording is by its recorder alone stays so. */
async function keepRiders(tx: Tx, marked: readonly string[], at: Instant): Promise<void> {
  const placed = new Map((await tx.rides.listParts(marked)).map((part) => [part.readingId, part.riderId]));
  for (const part of await listParts(tx, marked)) {
    const riderId = placed.get(part.readingId) ?? null;
    const isSaid = part.answer.riderId !== undefined || part.riderId !== null || namedBikeOf(part) !== null;
    if (riderId === null || isSaid || recorderOf(part) === null) continue;
    const body = { readingId: part.readingId, riderId };
    await tx.facts.add({ kind: 'answer', body, at, by: BY_ITSELF });
  }
}

async function keepJoins(tx: Tx, marked: readonly string[], at: Instant): Promise<void> {
  const near = await listNear(tx, marked);
  const stored = await tx.rides.listOfReadings([...near]);
  const parts = new Map(
    (await listParts(tx, [...new Set(stored.flatMap((ride) => ride.readingIds))])).map((part) => [
      part.readingId,
      part,
    ]),
  );
  const rides = stored
    // What waits for a word on two rides is decided by it.
    .filter(({ otherRideId, dismissed }) => otherRideId === null && !dismissed)
    .map(({ readingIds: ids, shiftsMs }) => ({ parts: ids.map((id) => parts.get(id)!), shiftsMs }));
  for (const { readingId, joins } of wordsForMarks(rides)) {
    const known = parts.get(readingId)?.answer.joins ?? {};
    const fresh = Object.fromEntries(Object.entries(joins).filter(([id]) => known[id] === undefined));
    if (Object.keys(fresh).length > 0)
      await tx.facts.add({ kind: 'answer', body: { readingId, joins: fresh }, at, by: BY_ITSELF });
  }
}
