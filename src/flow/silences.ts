import { dayOf } from '../core/calendar.js';
import { type Silence, silenceOf } from '../core/silence.js';
import type { Tx } from '../ports.js';
import type { Instant } from '../units.js';

/** Rides that say how often a rider rides. */
const RIDES_LOOKED_AT = 25;

/** Returns since when a rider's rides are missing; null where they are not, or where no habit is known. */
export async function findSilence(
  tx: Tx,
  riderId: string,
  now: Instant,
  zone: string,
): Promise<Silence | null> {
  const rides = await tx.rides.listLatestOfRider(riderId, RIDES_LOOKED_AT);
  const silence = silenceOf(
    rides.map((ride) => ride.start!),
    now,
    zone,
  );
  // A ride that waits in the tray, or does not count, shows that files still come.
  const last = silence && (await tx.rides.lastStartOfRider(riderId));
  return last && dayOf(last, zone) > silence.since ? null : silence;
}
