import type { MovedRide } from '../../flow/fittings/movedRides.js';
import { wordsFor } from '../../languages/index.js';
import { hoursOfSeconds, isoTime } from '../../units.js';

const MOST_SHOWN = 12;
const words = wordsFor('en');

/** Returns a ride that counts for another unit as `--json` has it. */
export const movedRow = ({ rideId, start, movingS, bike, from, to }: MovedRide) => ({
  ride: rideId,
  start: isoTime(start),
  movingS,
  bike,
  from,
  to,
});

/** Returns in lines which rides changed unit, and which fall on none. */
export function movedLines(rides: readonly MovedRide[]): string[] {
  if (rides.length === 0) return [];
  const lines = rides
    .slice(0, MOST_SHOWN)
    .map(
      ({ start, bike, movingS, from, to }) =>
        `  ${isoTime(start)}  bike ${bike}, ${words.hours(hoursOfSeconds(movingS))}: ${from ?? 'no unit'} → ${to ?? 'no unit: it counts for none'}`,
    );
  const more = rides.length > MOST_SHOWN ? [`  and ${rides.length - MOST_SHOWN} more`] : [];
  return [`${words.counted(rides.length, 'ride')} now count for another unit:`, ...lines, ...more];
}
