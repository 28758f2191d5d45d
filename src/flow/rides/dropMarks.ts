/** Marks of places go with the originals, and with a rider who is forgotten; what they decided is kept as words first. */
import { wordsForMarks } from '../../core/rides/putTogether.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { listParts } from './bikeKnowledge.js';
import { listNear } from './settleReadings.js';

const BY_ITSELF = 'stanchion';

/** Removes the marks of these readings; no ride changes by it. */
export async function dropMarks(tx: Tx, readingIds: readonly string[], at: Instant): Promise<void> {
  const marked = [...(await tx.readings.listMarks(readingIds)).keys()];
  if (marked.length === 0) return;
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
  await tx.readings.removeMarks(marked);
}
