import type { Tx } from '../../ports/store.js';
import type { Entry } from '../entry.js';
import { replaceFact, voidFact } from '../facts/changeFact.js';
import { answerTray } from './answerTray.js';

export const isBikeOf = async (tx: Tx, riderId: string, bikeId: string): Promise<boolean> =>
  (await tx.facts.list('bike', { object: riderId })).some((fact) => fact.entityId === bikeId);

/**
 * Moves a ride of a rider's, recorded or typed, to another of their bikes; null says that it was on none of them, and it
 * counts no more. Returns false where either is not theirs.
 */
export async function moveRide(
  tx: Tx,
  riderId: string,
  rideId: string,
  bikeId: string | null,
  entry: Entry,
): Promise<boolean> {
  const ride = await tx.rides.find(rideId);
  if (ride?.riderId !== riderId || !(bikeId === null || (await isBikeOf(tx, riderId, bikeId)))) return false;
  if (ride.source === 'hand') return moveHours(tx, rideId, bikeId, entry);
  await answerTray(tx, rideId, bikeId === null ? { ride: false } : { bikeId }, entry);
  return true;
}

/** Hours that somebody typed are corrected: the new word names the old one. */
async function moveHours(tx: Tx, hoursId: string, bikeId: string | null, entry: Entry): Promise<boolean> {
  const fact = await tx.facts.current('hours', hoursId);
  if (!fact) return false;
  const because = { ...entry, why: 'wrong bike' };
  if (bikeId === null) await voidFact(tx, fact.id, because.why, because);
  else if (bikeId !== fact.body.bikeId)
    await replaceFact(tx, fact.id, { kind: 'hours', body: { ...fact.body, bikeId } }, because);
  return true;
}
