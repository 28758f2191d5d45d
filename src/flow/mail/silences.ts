import { type Silence, silenceOf } from '../../core/notices/notice/silence.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { listFiles } from '../rides/countedRides.js';

/** Rides that say how often a rider rides. */
const RIDES_LOOKED_AT = 25;

/** Returns since when a rider's rides are missing; null where they are not, or where no habit is known. */
export async function findSilence(
  tx: Tx,
  riderId: string,
  now: Instant,
  zone: string,
): Promise<Silence | null> {
  const starts = await tx.rides.listLatestStartsOfRider(riderId, RIDES_LOOKED_AT);
  // A ride that waits in the tray, or does not count, shows that files still came.
  const last = await tx.rides.lastStartOfRider(riderId);
  const rides = last === null || starts.includes(last) ? starts : [last, ...starts];
  return silenceOf(rides, await listFiles(tx, { riderId }, now, zone), now, zone);
}
