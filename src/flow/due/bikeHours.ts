import { type Hours, NO_HOURS, plusHours } from '../../core/ledger/hours.js';
import { chargedMs, clampOn } from '../../core/ledger/weight.js';
import { HOUR_SOURCES, type HourSource } from '../../core/tokens.js';
import type { Tx } from '../../ports/store.js';
import { type Instant, instant } from '../../units.js';
import { listDeclared, listUnrecorded, toCountedRides, toDeclaredRides } from '../rides/countedRides.js';
import { getWorkshop } from '../settings.js';
import { getBike } from '../unitLedger.js';

/** Returns all hours of a bike by where they come from, as a unit without a factor is charged. */
export async function getBikeHours(
  tx: Tx,
  bikeId: string,
  now: Instant,
): Promise<Readonly<Record<HourSource, Hours>>> {
  const { timeZone } = await getWorkshop(tx);
  const bike = await getBike(tx, bikeId);
  const rows = await tx.rides.listCountedHours(bikeId);
  const sourceOf = new Map(
    rows.map(({ id, source }): [string, HourSource] => [id, source === 'hand' ? 'by-hand' : 'recorded']),
  );
  const sums = new Map<HourSource, Hours>(HOUR_SOURCES.map((source) => [source, NO_HOURS]));
  const declared = await listDeclared(tx, [bike], now, timeZone);
  const rides = [
    ...toCountedRides(rows, await listUnrecorded(tx, [bikeId], timeZone)),
    ...toDeclaredRides(declared, instant(0), now),
  ];
  for (const ride of rides) {
    const source = ride.isDeclared ? 'declared' : (sourceOf.get(ride.id) ?? 'unrecorded');
    const { movingS } = ride;
    const terrainMs = chargedMs(ride, 1, clampOn(bike, ride.start));
    sums.set(source, plusHours(sums.get(source)!, { movingS, terrainMs }));
  }
  return Object.fromEntries(sums) as Record<HourSource, Hours>;
}
