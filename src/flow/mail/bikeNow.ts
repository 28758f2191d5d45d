import { fittingNow } from '../../core/ledger/ledger.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { fittingOf } from '../unitLedger.js';

/**
 * Returns the bike that a unit is on, and whose the unit is. In its box it is of the rider who was named with it; else of
 * the bike that it was on last, unless that was sold.
 */
export async function bikeNow(
  tx: Tx,
  unitId: string,
  now: Instant,
  zone: string,
): Promise<{
  readonly bikeId: string | null;
  readonly bike: string | null;
  readonly riderId: string | null;
}> {
  const fittings = (await tx.facts.list('fitting', { subject: unitId })).map((fact) => fittingOf(fact, zone));
  const bikeOf = async (id: string | undefined) =>
    id === undefined ? undefined : (await tx.facts.current('bike', id))?.body;
  const bikeId = fittingNow(fittings, now)?.bikeId ?? null;
  const bike = await bikeOf(bikeId ?? undefined);
  if (bike) return { bikeId, bike: bike.name, riderId: bike.riderId };
  const named = (await tx.facts.current('unit', unitId))?.body.riderId;
  if (named !== undefined) return { bikeId: null, bike: null, riderId: named };
  const before = await bikeOf([...fittings].sort((a, b) => a.from - b.from).at(-1)?.bikeId);
  return { bikeId: null, bike: null, riderId: before?.sold ? null : (before?.riderId ?? null) };
}
