/** Riding that no recorder saw, as the share of all riding that somebody says it was: an estimate, told apart. */
import { type Instant, seconds, thousandths } from '../../units.js';
import type { CountedRide } from './ledger.js';

/** Of more there is too little recorded to go by. */
export const LARGEST_SHARE = 0.9;

/** So much of all riding on a bike in a time, half open, went unrecorded. */
export interface UnrecordedShare {
  readonly bikeId: string;
  readonly from: Instant;
  readonly to: Instant | null;
  readonly share: number;
}

const isIn = ({ bikeId, from, to }: UnrecordedShare, ride: CountedRide): boolean =>
  bikeId === ride.bikeId && from <= ride.start && (to === null || ride.start < to);

/**
 * Returns what went unrecorded beside a recorded ride, null where nobody said that anything did. It goes to what was
 * fitted at that ride's start and lies on that ride's ground. Of all riding a tenth is a ninth of what was recorded.
 */
export function unrecordedBeside(ride: CountedRide, shares: readonly UnrecordedShare[]): CountedRide | null {
  const said = shares.find((one) => isIn(one, ride));
  if (!said) return null;
  const times = said.share / (1 - said.share);
  return {
    ...ride,
    id: `${ride.id} unrecorded`,
    movingS: seconds(Math.round(ride.movingS * times)),
    groundMs: thousandths(Math.round(ride.groundMs * times)),
  };
}
