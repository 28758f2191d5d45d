import type { PhotoFact } from '../../core/ledger/facts.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { listRiderBikes } from '../due/riderUnits.js';

/** Returns a photograph of a unit that is on one of the rider’s bikes now, unless it shows a person or a name. */
export async function findOwnPhoto(
  tx: Tx,
  riderId: string,
  unitId: string | null,
  photoId: string,
  now: Instant,
): Promise<PhotoFact | null> {
  const bikes = await listRiderBikes(tx, riderId, now);
  if (!bikes.some(({ units }) => units.some((of) => of.unitId === unitId))) return null;
  const photo = (await tx.facts.current('photo', photoId))?.body;
  // A bike that was bought brings no pictures of its time with another rider.
  return photo?.unitId === unitId && photo.riderId === riderId && !photo.showsPerson ? photo : null;
}
