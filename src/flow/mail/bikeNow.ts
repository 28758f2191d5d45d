import { fittingNow } from '../../core/ledger/ledger.js';
import type { Tx } from '../../ports/store.js';
import type { Instant } from '../../units.js';
import { fittingOf } from '../unitLedger.js';

/** Returns the bike that a unit is on and whose it is; nulls for one in its box. */
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
  const bikeId = fittingNow(fittings, now)?.bikeId ?? null;
  const bike = bikeId === null ? undefined : (await tx.facts.current('bike', bikeId))?.body;
  return { bikeId, bike: bike?.name ?? null, riderId: bike?.riderId ?? null };
}
