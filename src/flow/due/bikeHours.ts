import { type Hours, NO_HOURS, plusHours } from '../../core/ledger/hours.js';
import { chargedMs, clampOn } from '../../core/ledger/weight.js';
import { HOUR_SOURCES, type HourSource } from '../../core/tokens.js';
import type { Tx } from '../../ports/store.js';
import { listUnrecorded, toCountedRides } from '../rides/countedRides.js';
import { getWorkshop } from '../settings.js';
import { getBike } from '../unitLedger.js';

/** Returns all hours of a bike by where they come from, as a unit without a factor is charged. */
export async function getBikeHours(tx: Tx, bikeId: string): Promise<Readonly<Record<HourSource, Hours>>> {
  const { timeZone } = await getWorkshop(tx);
  const bike = await getBike(tx, bikeId);
  const rows = await tx.rides.listCountedHours(bikeId);
  const sourceOf = new Map(
    rows.map(({ id, source }): [string, HourSource] => [id, source === 'hand' ? 'by-hand' : 'recorded']),
  );
  const sums = new Map<HourSource, Hours>(HOUR_SOURCES.map((source) => [source, NO_HOURS]));
  for (const ride of toCountedRides(rows, await listUnrecorded(tx, [bikeId], timeZone))) {
    const source = sourceOf.get(ride.id) ?? 'unrecorded';
    const { movingS } = ride;
    const terrainMs = chargedMs(ride, 1, clampOn(bike, ride.start));
    sums.set(source, plusHours(sums.get(source)!, { movingS, terrainMs }));
  }
  return Object.fromEntries(sums) as Record<HourSource, Hours>;
}
