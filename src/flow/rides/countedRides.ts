import { startOfDay } from '../../core/days/calendar.js';
import type { Fact } from '../../core/ledger/facts.js';
import type { CountedRide } from '../../core/ledger/ledger.js';
import { type UnrecordedShare, unrecordedBeside } from '../../core/ledger/unrecorded.js';
import type { RideHoursRow } from '../../ports/rides.js';
import type { Tx } from '../../ports/store.js';

const shareOf = ({ body }: Fact<'unrecorded'>, zone: string): UnrecordedShare => ({
  bikeId: body.bikeId,
  from: startOfDay(body.from, zone),
  to: body.to === null ? null : startOfDay(body.to, zone),
  share: body.share,
});

/** Returns what was said of riding on these bikes that went unrecorded. */
export const listUnrecorded = async (
  tx: Tx,
  bikeIds: Iterable<string>,
  zone: string,
): Promise<UnrecordedShare[]> =>
  (await tx.facts.listMany('unrecorded', [...bikeIds])).map((fact) => shareOf(fact, zone));

/** Returns a ride that counts as the core takes it. */
const toCounted = ({ id, bikeId, start, movingS, groundMs }: RideHoursRow): CountedRide => ({
  id,
  bikeId: bikeId!,
  start: start!,
  movingS,
  groundMs,
});

/** Returns rides that count as the core takes them, and what went unrecorded beside those that were recorded. */
export function toCountedRides(
  rows: readonly RideHoursRow[],
  shares: readonly UnrecordedShare[],
): CountedRide[] {
  const counted: CountedRide[] = [];
  for (const row of rows) {
    const ride = toCounted(row);
    counted.push(ride);
    const beside = row.source === 'recorded' ? unrecordedBeside(ride, shares) : null;
    if (beside !== null) counted.push(beside);
  }
  return counted;
}
